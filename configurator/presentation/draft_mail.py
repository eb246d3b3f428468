"""A draft e-mail with the sheet and the bill, for the sender's own program to fill in and send: never sent here."""

from __future__ import annotations

from email.message import EmailMessage
from email.policy import SMTP

_BOUNDARY = "kitwright-part"
_OPENING = "Please look this over; the sheet is attached, open it in a browser or print it."
_CLOSING = "The sheet has every caution: read them before you buy, fit or start anything."


def draft_mail(subject: str, sentence: str, sheet: str, bill: str) -> str:
    """The draft as a file: no sender, no receiver, no date; `bill` is CSV text, empty where there is no kit.

    RFC 5322 and 2045; `X-Unsent` tells the program that opens it that it is a draft. Same input, same bytes.
    """
    mail = EmailMessage(policy=SMTP)
    mail["Subject"] = " ".join(subject.split())
    mail["X-Unsent"] = "1"
    mail.set_content(f"{_OPENING}\n\n{sentence}\n\n{_CLOSING}\n")
    mail.add_attachment(sheet, subtype="html", filename="sheet.html")
    if bill:
        mail.add_attachment(bill, subtype="csv", filename="bill.csv")
    mail.set_boundary(_boundary_outside(sheet + bill + sentence))
    return mail.as_bytes().decode("utf-8")


def _boundary_outside(text: str) -> str:
    """A boundary that no attachment holds."""
    boundary = _BOUNDARY
    while boundary in text:
        boundary += "-x"
    return boundary
