"""Text that only who has the key can read, or change unnoticed.

AES-256 in Galois/counter mode with a drawn nonce of 96 bits. One key may seal 2^32 values in
that way (NIST SP 800-38D, section 8.3), so every owner's values are sealed with a key derived
for that owner: a value moved to another owner or another place cannot be opened there.

A sealed value is ``s1.KEY.DATA``: the form's number, the key's id, and nonce and cipher text in
base64.
"""

import hmac
import os
from base64 import b64decode, urlsafe_b64encode
from binascii import Error as Base64Error
from binascii import a2b_base64, b2a_base64
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, Protocol

from bot.errors import BadSettings, Unreadable

if TYPE_CHECKING:  # loaded with the first key: nothing in memory is sealed
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

FORM = "s1."
"""How every sealed value begins."""

KEY_BYTES = 32
_NONCE_BYTES = 12
_OWNERS_AT_ONCE = 4096
_PROOF = "weeknight"


class Seal(Protocol):
    """How text is kept."""

    def seal(self, text: str, *, owner: str, place: str) -> str:
        """The text as it is kept, for that owner in that place."""
        ...

    def open(self, kept: str, *, owner: str, place: str) -> str:
        """The text again.

        Raises:
            Unreadable: Not sealed, for another owner or place, with another key, or changed.
        """
        ...


class Unsealed:
    """Keeps text as it is: for what ends with its process."""

    def seal(self, text: str, *, owner: str, place: str) -> str:
        """The text."""
        return text

    def open(self, kept: str, *, owner: str, place: str) -> str:
        """The text."""
        return kept


@dataclass(frozen=True, slots=True)
class Key:
    """A key. Its id tells it from others and says nothing of the secret."""

    secret: bytes = field(repr=False)

    @property
    def id(self) -> str:
        """Eight hexadecimal digits."""
        return hmac.digest(self.secret, b"weeknight key id", "sha256")[:4].hex()

    @property
    def text(self) -> str:
        """The key as it is written into a file or the environment."""
        return urlsafe_b64encode(self.secret).decode()


def new_key() -> Key:
    """A key nobody had before."""
    return Key(os.urandom(KEY_BYTES))


def key_from_text(text: str, *, named: str) -> Key:
    """The key that was written so.

    Raises:
        BadSettings: It is none.
    """
    try:
        secret = b64decode(text, altchars=b"-_", validate=True)
    except (Base64Error, ValueError):
        secret = b""
    if len(secret) != KEY_BYTES:
        raise BadSettings(f"{named} holds something that is no key; make one: weeknight key new")
    return Key(secret)


class Ring:
    """Keys, the newest first: that one seals, each of them opens."""

    def __init__(self, keys: Sequence[Key]) -> None:
        """Join keys, at least one."""
        from cryptography.exceptions import InvalidTag

        self._changed = (InvalidTag, Base64Error, ValueError)
        self._keys = {key.id: key for key in keys}
        self.newest = keys[0].id
        self._ciphers = lru_cache(_OWNERS_AT_ONCE)(self._cipher)

    @property
    def ids(self) -> tuple[str, ...]:
        """Of every key, the newest first."""
        return tuple(self._keys)

    def seal(self, text: str, *, owner: str, place: str) -> str:
        """The text sealed with the newest key."""
        nonce = os.urandom(_NONCE_BYTES)
        cipher = self._ciphers(self.newest, owner)
        data = nonce + cipher.encrypt(nonce, text.encode(), place.encode())
        return f"{FORM}{self.newest}.{b2a_base64(data, newline=False).decode()}"

    def open(self, kept: str, *, owner: str, place: str) -> str:
        """The text again."""
        if not kept.startswith(FORM):
            raise Unreadable(f"{place} is not sealed")
        key_id, _, coded = kept[len(FORM) :].partition(".")
        if key_id not in self._keys:
            raise Unreadable(f"{place} is sealed with key {key_id}, which was not given")
        try:
            data = a2b_base64(coded)
            cipher = self._ciphers(key_id, owner)
            text = cipher.decrypt(data[:_NONCE_BYTES], data[_NONCE_BYTES:], place.encode())
        except self._changed:
            raise Unreadable(f"{place} was changed since it was sealed") from None
        return text.decode()

    def proof(self, key_id: str) -> str:
        """A value that only that key opens, to be kept beside what it seals."""
        return Ring((self._keys[key_id],)).seal(_PROOF, owner="", place="sealing.proof")

    def proves(self, proof: str) -> bool:
        """True when a key of this ring opens the value."""
        try:
            return self.open(proof, owner="", place="sealing.proof") == _PROOF
        except Unreadable:
            return False

    def _cipher(self, key_id: str, owner: str) -> "AESGCM":
        from cryptography.hazmat.primitives.ciphers.aead import AESGCM

        secret = self._keys[key_id].secret
        return AESGCM(hmac.digest(secret, b"weeknight owner\0" + owner.encode(), "sha256"))


class Keys(Protocol):
    """Where the keys come from."""

    @property
    def where(self) -> str:
        """The place, in words for a person."""
        ...

    def ring(self) -> Ring:
        """The keys as they are now.

        Raises:
            BadSettings: There are none, or they cannot be used as they are kept.
        """
        ...

    def made(self) -> Ring:
        """The same, for what was never sealed: makes a key if there is none.

        Raises:
            BadSettings: As ``ring``, or none can be made.
        """
        ...

    def add(self, key: Key) -> None:
        """Put a key in front of the others.

        Raises:
            BadSettings: That is for a person to do; the message says how.
        """
        ...
