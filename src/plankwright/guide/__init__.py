"""What the person laying the floor needs next: events, cards, planning again, repair."""
