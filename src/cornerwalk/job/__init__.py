"""The conversation without a face: open job, prompts, chapters, what an answer means, what is refused and why.

Plain data in, plain data out. `tui` draws it and `line` prints it; neither says anything that is not said here.
"""
