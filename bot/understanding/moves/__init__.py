"""The roster in a text: "move ruby to group 2", "new student zed", "keep ruby and omar apart".

Each room has the phrases of its listeners and what makes a request of a clause that holds one:
`groups.py` hears who rotates with whom, `newcomers.py` who joins, `leavers.py` who leaves,
`keeping_apart.py` who must not sit together; `doubts.py` tells an order from a thought.
"""
