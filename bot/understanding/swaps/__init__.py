"""Swaps in a text: "swap ramps for gears", "can pink go", "what goes in blue next".

    clause -> line.py (words, with placeholders for bins, colors and days; boxes.py: colors that
    look like something else) -> said.py (by the patterns of patterns.py, built of words.py;
    when.py: its days) -> orders.py (requests, or asking.py: questions back) | questions.py,
    suggestions.py

`hearing.py` is the one ear: it tells orders from questions and from what is only thought of.
Closing days are heard with the swaps.
"""
