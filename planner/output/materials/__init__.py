"""What a plan takes: goods to order, earth to dig, loads to carry, days of work, and their cost."""
