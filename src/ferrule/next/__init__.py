"""What the record says about next week: proposals for each line, each with its reason."""
