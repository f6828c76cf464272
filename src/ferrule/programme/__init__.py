"""Programme text to Programme with places, and Programme to canonical text."""
