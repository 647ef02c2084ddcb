"""The whole job line by line: for a screen reader, a serial console, a very old terminal. Imports no screen library.

A conversation asks one question a line and answers in sentences. `conversation.Conversation` is all of it without a
stream (`greeting`, `prompt`, `answer`); `loop.converse` joins it to a pair of streams.
"""
