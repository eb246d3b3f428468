"""A draft e-mail: read again by the standard library's parser (RFC 5322, RFC 2045), with sheet and bill as they are."""

from __future__ import annotations

import email
from email.message import EmailMessage
from email.policy import default
from pathlib import Path

from configurator.presentation.draft_mail import draft_mail
from tests.journeys.checks import run
from tests.journeys.kitwright import example, written
from tests.presentation.sheets import shelf


def read(text: str) -> EmailMessage:
    mail = email.message_from_bytes(text.encode("utf-8"), policy=default)
    assert isinstance(mail, EmailMessage)
    return mail


def test_it_is_a_draft_to_nobody_and_the_same_each_time() -> None:
    made = draft_mail("Hatch: kit 1", "Kit 1, 1,189.94.", "<html>\u00e9</html>\n", "a,b\n")
    mail = read(made)
    assert mail["X-Unsent"] == "1"
    assert [mail[key] for key in ("To", "From", "Cc", "Bcc", "Date", "Message-ID")] == [None] * 6
    assert made == draft_mail("Hatch: kit 1", "Kit 1, 1,189.94.", "<html>\u00e9</html>\n", "a,b\n")
    assert [part.get_content_type() for part in mail.iter_attachments()] == ["text/html", "text/csv"]


def test_a_name_cannot_add_a_header_nor_end_a_part() -> None:
    sheet = "--kitwright-part\r\nContent-Type: text/plain\r\n\r\nnot mine\n"
    mail = read(draft_mail("Hatch\r\nBcc: someone@example.org", "Kit 1.", sheet, ""))
    assert mail["Bcc"] is None and mail["Subject"] == "Hatch Bcc: someone@example.org"
    (attached,) = mail.iter_attachments()
    assert attached.get_content().split() == sheet.split()


def test_the_command_writes_page_and_draft_and_leaves_what_is_there(tmp_path: Path) -> None:
    (tmp_path / "brief.yaml").write_text(written(example("hatch")), encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf()), encoding="utf-8")
    page, draft = tmp_path / "sheet.html", tmp_path / "sheet.eml"
    words = ("sheet", str(tmp_path / "brief.yaml"), "-o", str(page), "--mail", str(draft),
             "--catalogue", str(tmp_path / "shelf"))  # fmt: skip
    assert run(*words).code == 0
    parts = {part.get_filename(): part for part in read(draft.read_bytes().decode("utf-8")).iter_attachments()}
    sent, kept = parts["sheet.html"].get_content(), page.read_text(encoding="utf-8")
    assert sent.splitlines() == kept.splitlines()  # in a mail every line of text ends with CR and LF (RFC 2045)
    assert parts["bill.csv"].get_content().startswith("group,item,part")
    before = page.read_bytes()
    assert run(*words).code == 3
    assert page.read_bytes() == before
