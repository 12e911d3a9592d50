"""Signing a PDF with the firm's certificate, where it has named one; otherwise a PDF stays as it was made.

settings.PDF_SIGN_KEY names a PKCS#12 file with key and chain, settings.PDF_SIGN_PASSPHRASE opens it; both come from the
environment. The signature lies in the file (PAdES, ISO 32000), so that any reader shows whose it is and whether a byte
was changed. The packages that make it are optional: requirements-sign.txt.
"""

from io import BytesIO
from pathlib import Path
from typing import Any

from django.conf import settings
from django.utils.translation import gettext

FIELD = "Firm"


class CannotSign(RuntimeError):
    """The firm signs its sheets and this one cannot be signed; the message names the remedy. Nothing was issued."""


def signs() -> bool:
    """True where the firm has named a key."""
    return bool(settings.PDF_SIGN_KEY)


def as_issued(pdf: bytes, reason: str) -> bytes:
    """The bytes to keep: signed where the firm has named a key, otherwise as they are. Raises CannotSign.

    `reason` stands in the signature. Example: "WPS 014 rev C, issued".
    """
    return _signed(pdf, reason) if signs() else pdf


def _signed(pdf: bytes, reason: str) -> bytes:
    signer = _signer()
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign.fields import SigSeedSubFilter
    from pyhanko.sign.signers import PdfSignatureMetadata, sign_pdf

    about = PdfSignatureMetadata(
        field_name=FIELD, reason=reason[:200], md_algorithm="sha256", subfilter=SigSeedSubFilter.PADES
    )
    try:
        out = sign_pdf(IncrementalPdfFileWriter(BytesIO(pdf)), about, signer=signer, output=BytesIO())
    except Exception as fault:  # the library raises many kinds; whichever it is, an unsigned sheet is not issued
        raise CannotSign(
            gettext("The sheet could not be signed (%(name)s: %(fault)s).")
            % {"name": type(fault).__name__, "fault": str(fault)[:120]}
        ) from fault
    return bytes(out.getvalue())


def _signer() -> Any:
    """The firm's key. Raises CannotSign that says what is missing, never the passphrase."""
    try:
        from pyhanko.sign.signers import SimpleSigner
    except ImportError:
        raise CannotSign(
            gettext(
                "PDF_SIGN_KEY is set, but the packages that sign are not installed: pip install -r "
                "requirements-sign.txt."
            )
        ) from None
    path = Path(settings.PDF_SIGN_KEY)
    if not path.is_file():
        raise CannotSign(gettext("PDF_SIGN_KEY names no file that the register can read."))
    found = SimpleSigner.load_pkcs12(str(path), passphrase=settings.PDF_SIGN_PASSPHRASE.encode() or None)
    if found is None:
        raise CannotSign(gettext("PDF_SIGN_KEY is no PKCS#12 file that PDF_SIGN_PASSPHRASE opens."))
    return found
