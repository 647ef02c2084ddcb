"""The guide, readable without a network: pages in Markdown that lie in the package.

`pages()` gives them in reading order, `page(id)` one of them; each page's text is Markdown as it stands, for a screen
that can show it. `rendering` turns pages into plain lines for a terminal and into one web page to print.
"""

from cornerwalk.guide.library import Page, UnknownPageError, page, pages

__all__ = ["Page", "UnknownPageError", "page", "pages"]
