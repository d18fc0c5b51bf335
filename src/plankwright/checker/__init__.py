"""The independent checker: judges a plan and shares no code with what made it."""
