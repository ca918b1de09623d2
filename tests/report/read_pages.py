"""Papers read back, and of their pages no more than are asked for: a page takes a tenth of a second."""

from io import BytesIO

import pdfplumber
from pdfminer.pdftypes import resolve1


def titled(pdf: bytes, words: str) -> tuple[pdfplumber.page.Page, ...]:
    """The pages on which these words stand in one piece."""
    return tuple(page for page in pdfplumber.open(BytesIO(pdf)).pages if words.encode() in _written(page))


def _written(page: pdfplumber.page.Page) -> bytes:
    return b"".join(resolve1(part).get_data() for part in page.page_obj.contents)
