"""What each chapter of the job asks, line by line and without a screen.

A line is a question, what stands there, and what an answer makes happen. A page shows them; a test reads them.
"""
