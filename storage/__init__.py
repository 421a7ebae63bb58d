"""What the class book keeps, and how: records, tables, units of work."""
