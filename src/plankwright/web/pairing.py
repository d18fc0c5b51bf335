"""Pairing: a one-time secret lets a device in; a sign-in ends by itself and can be taken back."""

import hashlib
import hmac
import secrets
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock

INVITATION_S = 10 * 60.0
SIGN_IN_S = 14 * 24 * 3600.0
MOST_TRIES = 10  # wrong secrets until every invitation is void


@dataclass(frozen=True, slots=True)
class Device:
    """A device that is signed in: a name for the list, when it came and until when it may."""

    id: str
    name: str
    since: float
    until: float


class Pairing:
    """Invitations and sign-ins; only digests of secrets are kept.

    Parameters
    ----------
    clock : seconds since the epoch.
    """

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._lock = Lock()
        self._invitations: dict[bytes, float] = {}
        self._devices: dict[bytes, Device] = {}
        self._wrong = 0

    def invite(self) -> str:
        """A new secret, good once and for ten minutes; older ones are void."""
        secret = secrets.token_urlsafe(24)
        with self._lock:
            self._wrong = 0
            self._invitations = {_digest(secret): self._clock() + INVITATION_S}
        return secret

    def sign_in(self, secret: str, name: str) -> str | None:
        """A device's key for its cookie, or None when the secret is wrong, used or too old."""
        with self._lock:
            if not self._take(_digest(secret)):
                self._wrong += 1
                if self._wrong >= MOST_TRIES:
                    self._invitations.clear()
                return None
            key = secrets.token_urlsafe(32)
            now = self._clock()
            device = Device(secrets.token_hex(4), name[:60], now, now + SIGN_IN_S)
            self._devices[_digest(key)] = device
        return key

    def _take(self, digest: bytes) -> bool:
        for known, until in list(self._invitations.items()):
            if hmac.compare_digest(known, digest):
                del self._invitations[known]
                return until >= self._clock()
        return False

    def is_signed_in(self, key: str) -> bool:
        """Whether a key is good."""
        device = self._devices.get(_digest(key))
        return device is not None and device.until >= self._clock()

    def devices(self) -> list[Device]:
        """The devices that are signed in, first come first."""
        now = self._clock()
        return [device for device in self._devices.values() if device.until >= now]

    def revoke(self, device_id: str) -> bool:
        """Take a sign-in back; False where there is none of that name."""
        with self._lock:
            for key, device in list(self._devices.items()):
                if device.id == device_id:
                    del self._devices[key]
                    return True
        return False


def _digest(secret: str) -> bytes:
    return hashlib.sha256(secret.encode("utf-8", "replace")).digest()
