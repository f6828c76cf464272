"""What leaves: sheet, page, calendar, the coach's summary."""
