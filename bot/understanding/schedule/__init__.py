"""Days and rotations in a text: "no school friday", "half day tomorrow", "we lost the 10:40".

Each room has the phrases of its listeners and what makes a request of a clause that holds one:
`whole_days.py` hears of days with and without school, `rotations.py` of rotations lost and added,
`blocks.py` of parts of a day; `changes.py` is what they share.
"""
