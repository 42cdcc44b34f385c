"""What a plan is: its values and the schema of the file it is kept in."""
