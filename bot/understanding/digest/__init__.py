"""Nudges in a text: "morning message at 7:15", "quiet till monday", "no more nudges", "unmute".

Each room has the phrases of its listeners and what makes a request of a clause that holds one:
`summary.py` hears of the morning summary, `off.py` that nudges are not wanted (for a while),
`on.py` that they are, `buttons.py` what the summary's own buttons send. `until.py` reads till when
and at what time of the morning; `words.py` is what they share.
"""
