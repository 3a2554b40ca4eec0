"""The calendar book: reminders, and the sales of the year."""
