"""The rules of the trade. Pure: no clock, no database, no network."""
