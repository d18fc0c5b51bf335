"""From room, board and rules to an instance, and from a solution back to a plan."""
