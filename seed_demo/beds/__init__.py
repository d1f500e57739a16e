"""One file per taken bed: who lies there, what its lungs do over three days, and what people say.

Every patient is invented. Notes are the words of the demo's people, not the program's.
"""
