"""Supplies in a text: "ramps is down to 4 sheets", "copied 20", "what should i copy".

    clause -> words.py (each word's sign, signs.py: amount, item, bin, cue; settling.py: by what
    stands around it) -> parts.py (one thing said of supplies each; filling.py: what it lacks from
    its neighbours) -> for each part became.py (what became of it), meant.py (of what) and
    quantities.py (how many) -> joined.py (what belongs together told once) -> reports.py
    (requests, or asking.py: questions back; unlisted.py: what is on no list) | questions.py

Works on the words as they were typed, not on settled items: a number here is never a group or a
child. `hearing.py` has the ears.
"""
