"""The messaging platform, at the edge."""
