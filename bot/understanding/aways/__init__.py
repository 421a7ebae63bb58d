"""Aways in a text: "ruby is out today", "omar leaves at 10:30", "mateo is back", "who's out?".

Each room has the phrases of a listener and what makes a request of a clause that holds one:
`away.py` is told who is away (its `phrases.py`, and `parts_of_day.py`: when), `strangers.py` of
names nobody has, `back.py` who is here again, `questions.py` is asked; `words.py` is what they
share.
"""
