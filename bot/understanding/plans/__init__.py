"""The plan in a text: "plan for tomorrow", "where does g3 go next?", "ran as planned".

Each room has the phrases of its listeners and what makes a request of a clause that holds one:
`showing.py` is asked for the plan, `going.py` where children go next, `finishing.py` whether all
get everywhere; `as_planned.py` is told that a rotation ran as planned.
"""
