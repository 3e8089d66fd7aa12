"""Sealed text opens for its owner, in its place, with its key, and nowhere else."""

import base64

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.errors import BadSettings, Unreadable
from bot.seal import FORM, Key, Ring, key_from_text, new_key

KEY, OTHER = Key(bytes(range(32))), Key(bytes(range(1, 33)))
RING = Ring([KEY])
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=200)


@given(WORDS, WORDS, WORDS)
def test_open_gives_back_what_was_sealed(text: str, owner: str, place: str) -> None:
    assert RING.open(RING.seal(text, owner=owner, place=place), owner=owner, place=place) == text


@given(st.text("abcdefgh", min_size=4, max_size=40))
def test_seal_shows_nothing_of_the_text_and_never_the_same_twice(text: str) -> None:
    once, again = (RING.seal(text, owner="a", place="p") for _ in range(2))
    assert once != again
    for sealed in (once, again):
        data = base64.b64decode(sealed.split(".")[2])
        assert text not in sealed
        assert text.encode() not in data
        assert len(data) == len(text) + 12 + 16  # nonce and tag, NIST SP 800-38D


def test_open_another_owner_place_or_key_is_refused() -> None:
    sealed = RING.seal("crimp 22 ok", owner="athlete:1", place="fact.body")
    with pytest.raises(Unreadable, match="changed"):
        RING.open(sealed, owner="athlete:2", place="fact.body")
    with pytest.raises(Unreadable, match="changed"):
        RING.open(sealed, owner="athlete:1", place="athlete.talk")
    with pytest.raises(Unreadable, match=KEY.id):
        Ring([OTHER]).open(sealed, owner="athlete:1", place="fact.body")


def flipped(sealed: str, at: int) -> str:
    start, _, coded = sealed.rpartition(".")
    data = bytearray(base64.b64decode(coded))
    data[at] ^= 1
    return f"{start}.{base64.b64encode(bytes(data)).decode()}"


@pytest.mark.parametrize(
    "at", [0, 11, 12, -17, -1], ids=["nonce", "nonce's end", "text", "x", "tag"]
)
def test_open_one_changed_bit_is_refused(at: int) -> None:
    sealed = RING.seal("a few words", owner="a", place="p")
    with pytest.raises(Unreadable, match="changed"):
        RING.open(flipped(sealed, at), owner="a", place="p")


@pytest.mark.parametrize(
    "kept",
    ["", "crimp 22 ok", "{}", FORM, f"{FORM}{KEY.id}.", f"{FORM}{KEY.id}.~", f"{FORM}{KEY.id}.ä"],
)
def test_open_what_was_never_sealed_is_refused(kept: str) -> None:
    with pytest.raises(Unreadable):
        RING.open(kept, owner="a", place="p")


def test_ring_opens_with_every_key_and_seals_with_the_newest() -> None:
    both = Ring([OTHER, KEY])
    assert both.ids == (OTHER.id, KEY.id)
    assert both.open(RING.seal("old", owner="a", place="p"), owner="a", place="p") == "old"
    sealed = both.seal("new", owner="a", place="p")
    assert Ring([OTHER]).open(sealed, owner="a", place="p") == "new"


def test_proves_only_what_its_own_key_has_made() -> None:
    assert RING.proves(RING.proof(KEY.id))
    assert Ring([OTHER, KEY]).proves(RING.proof(KEY.id))
    assert not Ring([OTHER]).proves(RING.proof(KEY.id))
    forged = RING.proof(KEY.id).replace(KEY.id, OTHER.id)
    assert not Ring([OTHER]).proves(forged)


def test_key_text_reads_back_and_shows_in_no_repr() -> None:
    key = new_key()
    assert key_from_text(key.text, named="here") == key
    assert key != new_key()
    assert len(key.secret) == 32  # AES-256
    assert key.text not in repr(key)
    assert str(key.secret) not in repr(key)


@pytest.mark.parametrize(
    "text", ["", "short", "ä" * 44, KEY.text[:-4], KEY.text + "AAAA", "!" * 44]
)
def test_key_from_text_refuses_what_is_no_key_without_repeating_it(text: str) -> None:
    with pytest.raises(BadSettings, match="weeknight key new") as refused:
        key_from_text(text, named="WEEKNIGHT_KEY")
    assert not text or text not in str(refused.value)


def test_seal_is_aes_256_gcm_by_another_road() -> None:
    """Independent: the derived key by another HMAC, the cipher by its own steps."""
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.ciphers import Cipher, algorithms, modes
    from cryptography.hazmat.primitives.hmac import HMAC

    sealed = RING.seal("crimp 22 ok", owner="athlete:1", place="fact.body")
    data = base64.b64decode(sealed.split(".")[2])
    mac = HMAC(KEY.secret, hashes.SHA256())
    mac.update(b"weeknight owner\0athlete:1")
    mode = modes.GCM(data[:12], data[-16:])
    opening = Cipher(algorithms.AES(mac.finalize()), mode).decryptor()
    opening.authenticate_additional_data(b"fact.body")
    assert opening.update(data[12:-16]) + opening.finalize() == b"crimp 22 ok"
