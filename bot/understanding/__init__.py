"""Reading texts. Pure: no clock, no database, no network."""
