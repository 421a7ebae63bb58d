"""The same bot with no token: a chat on this machine."""
