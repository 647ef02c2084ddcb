"""The conversation line by line: for a screen reader, a serial console, an old terminal. Imports no screen library.

`conversation.Conversation` is all of it without a stream (`greeting`, `prompt`, `answer`); `loop.converse` joins it to
a pair of streams. What is asked, refused and told is the conversation's, in `job`; here it is put into lines.
"""
