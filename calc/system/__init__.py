"""What is aboard, as frozen things, and pure functions from them to frozen results.

SI floats throughout; choices by their keys. No form, no report, no words: searches, trials and the
boat's list call these and nothing else.
"""
