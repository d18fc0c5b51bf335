"""The photographs of a job, kept once each under the digest of their bytes."""

import hashlib
from dataclasses import dataclass

from plankwright.errors import InputError
from plankwright.store.database import Database

LARGEST_BYTES = 20_000_000
# The first bytes of each kind: PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918-1), WebP (RFC 9649).
SIGNATURES: dict[str, tuple[bytes, int]] = {
    "image/png": (b"\x89PNG\r\n\x1a\n", 0),
    "image/jpeg": (b"\xff\xd8\xff", 0),
    "image/webp": (b"WEBP", 8),
}


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph; ``digest`` is the SHA-256 of its bytes, in hexadecimal."""

    digest: str
    media_type: str
    bytes: bytes


class Photographs:
    """The photographs of one job in a store."""

    def __init__(self, database: Database, job_id: str) -> None:
        self._database = database
        self._job = job_id

    def add(self, data: bytes) -> Photograph:
        """Keep a photograph; the same one again does nothing.

        Raises
        ------
        InputError : too large, or of no kind that every browser shows.
        """
        photo = Photograph(digest_of(data), media_type_of(data), data)
        with self._database.writing() as connection:
            connection.execute(
                "INSERT INTO photograph (job, digest, media_type, bytes) VALUES (?, ?, ?, ?)"
                " ON CONFLICT (job, digest) DO NOTHING",
                (self._job, photo.digest, photo.media_type, data),
            )
        return photo

    def get(self, digest: str) -> Photograph | None:
        """The photograph of a digest, or None."""
        rows = self._database.rows(
            "SELECT digest, media_type, bytes FROM photograph WHERE job = ? AND digest = ?",
            (self._job, digest),
        )
        return Photograph(*rows[0]) if rows else None

    def all(self) -> tuple[Photograph, ...]:
        """Every photograph, by digest."""
        rows = self._database.rows(
            "SELECT digest, media_type, bytes FROM photograph WHERE job = ? ORDER BY digest",
            (self._job,),
        )
        return tuple(Photograph(*row) for row in rows)


def digest_of(data: bytes) -> str:
    """The digest under which a photograph is kept."""
    return hashlib.sha256(data).hexdigest()


def media_type_of(data: bytes) -> str:
    """What kind of picture some bytes are, by their first ones."""
    if len(data) > LARGEST_BYTES:
        raise InputError(
            "the photograph is larger than 20 MB", value=len(data), remedy="Make it smaller first."
        )
    for media_type, (signature, at) in SIGNATURES.items():
        if data[at : at + len(signature)] == signature:
            return media_type
    raise InputError(
        "not a photograph that every browser shows", remedy="Save it as JPEG, PNG or WebP."
    )
