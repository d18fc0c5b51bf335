"""What to buy: packs, strips, trim, tools and time, worked out from the plan and the room."""
