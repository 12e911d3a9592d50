"""Sheets signed with the firm's certificate: verified against an authority of our own; altered ones do not stand."""

import builtins
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import BestAvailableEncryption, Encoding
from cryptography.hazmat.primitives.serialization.pkcs12 import serialize_key_and_certificates
from cryptography.x509.oid import NameOID

from register.pdf_signing import CannotSign, as_issued, signs


def named(name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])


def certified(name: str, key: Any, by: str, signer: Any, is_ca: bool) -> x509.Certificate:
    now = datetime.now(UTC)
    usage = (
        dict.fromkeys(
            ("digital_signature", "content_commitment", "key_encipherment", "data_encipherment", "key_agreement"), False
        )
        | dict.fromkeys(("key_cert_sign", "crl_sign"), is_ca)
        | {"encipher_only": False, "decipher_only": False}
    )
    usage |= {} if is_ca else {"digital_signature": True, "content_commitment": True}
    made = x509.CertificateBuilder().subject_name(named(name)).issuer_name(named(by)).public_key(key.public_key())
    made = made.serial_number(x509.random_serial_number()).not_valid_before(now - timedelta(days=1))
    made = made.not_valid_after(now + timedelta(days=30)).add_extension(x509.BasicConstraints(is_ca, None), True)
    made = made.add_extension(x509.KeyUsage(**usage), True)
    made = made.add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), False)
    made = made.add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key()), False)
    return made.sign(signer, hashes.SHA256())


@pytest.fixture(scope="module")
def keys(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, bytes]:
    """The firm's PKCS#12 file, and the certificate of the authority that vouches for it (DER)."""
    root, firm = ec.generate_private_key(ec.SECP256R1()), ec.generate_private_key(ec.SECP256R1())
    authority = certified("Invented authority", root, "Invented authority", root, True)
    own = certified("Nordfeld Stahlbau", firm, "Invented authority", root, False)
    path = tmp_path_factory.mktemp("keys") / "firm.p12"
    path.write_bytes(serialize_key_and_certificates(b"firm", firm, own, [authority], BestAvailableEncryption(b"open")))
    return path, authority.public_bytes(Encoding.DER)


@pytest.fixture(scope="module")
def pdf() -> bytes:
    from weasyprint import HTML

    return bytes(HTML(string="<p>WPS 014 rev C</p>").write_pdf())


@pytest.fixture
def firm(keys: tuple[Path, bytes], settings: Any) -> bytes:
    settings.PDF_SIGN_KEY, settings.PDF_SIGN_PASSPHRASE = str(keys[0]), "open"
    return keys[1]


def stands(pdf: bytes, authority: bytes) -> tuple[bool, str]:
    """Whether the signature holds, and whose it is."""
    from asn1crypto.x509 import Certificate
    from pyhanko.pdf_utils.reader import PdfFileReader
    from pyhanko.sign.validation import validate_pdf_signature
    from pyhanko_certvalidator import ValidationContext

    (signature,) = PdfFileReader(BytesIO(pdf)).embedded_signatures
    context = ValidationContext(trust_roots=[Certificate.load(authority)], allow_fetching=False)
    found = validate_pdf_signature(signature, context)
    return found.bottom_line, found.signing_cert.subject.human_friendly


def test_off_by_default(pdf: bytes, settings: Any) -> None:
    assert settings.PDF_SIGN_KEY == "" and not signs()
    assert as_issued(pdf, "issued") is pdf


def test_a_signed_sheet_verifies_and_an_altered_one_does_not(pdf: bytes, firm: bytes) -> None:
    signed = as_issued(pdf, "WPS 014 rev C, issued")
    assert signed.startswith(pdf)  # what was rendered is in it byte for byte
    assert stands(signed, firm) == (True, "Common Name: Nordfeld Stahlbau")
    at = 40
    altered = signed[:at] + bytes([signed[at] ^ 1]) + signed[at + 1 :]
    assert not stands(altered, firm)[0]


def test_another_authority_does_not_vouch_for_it(pdf: bytes, firm: bytes) -> None:
    other = ec.generate_private_key(ec.SECP256R1())
    stranger = certified("Other", other, "Other", other, True).public_bytes(Encoding.DER)
    assert not stands(as_issued(pdf, "issued"), stranger)[0]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"PDF_SIGN_PASSPHRASE": "wrong"}, "PDF_SIGN_PASSPHRASE opens"),
        ({"PDF_SIGN_KEY": "/nowhere.p12"}, "names no file"),
    ],
)
def test_what_cannot_be_signed_is_refused(pdf: bytes, firm: bytes, settings: Any, change: Any, said: str) -> None:
    for name, value in change.items():
        setattr(settings, name, value)
    with pytest.raises(CannotSign, match=said) as refusal:
        as_issued(pdf, "issued")
    assert "wrong" not in str(refusal.value)


def test_without_the_packages_the_message_names_them(pdf: bytes, firm: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    plain = builtins.__import__

    def absent(name: str, *args: Any, **kwargs: Any) -> Any:
        if name.startswith("pyhanko"):
            raise ImportError(name)
        return plain(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", absent)
    with pytest.raises(CannotSign, match=r"requirements-sign\.txt"):
        as_issued(pdf, "issued")
