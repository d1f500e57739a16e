"""What can be charted: every field once, how typed text becomes a reading, which readings disagree.

Pure: no web, no database, no clock. `facts` is the shape in which a patient's record is handed
upward, so that rules, pages and tests never need a database to think about one.
"""
