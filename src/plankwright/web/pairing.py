"""Pairing: a one-time secret lets a device in; a sign-in ends by itself and can be taken back."""

import hashlib
import hmac
import json
import secrets
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from threading import Lock

INVITATION_S = 10 * 60.0
SIGN_IN_S = 14 * 24 * 3600.0
MOST_TRIES = 10  # wrong secrets until every invitation is void
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Device:
    """A device that is signed in.

    Parameters
    ----------
    id, name : for the list.
    since, until : seconds since the epoch.
    digest : of the key in its cookie; the key itself is kept nowhere.
    """

    id: str
    name: str
    since: float
    until: float
    digest: str


class Pairing:
    """Invitations and sign-ins; only digests of secrets are kept.

    Parameters
    ----------
    clock : seconds since the epoch.
    file : where sign-ins outlast the server; None keeps them in memory.
    """

    def __init__(self, clock: Callable[[], float], file: Path | None = None) -> None:
        self._clock = clock
        self._file = file
        self._lock = Lock()
        self._invitation: tuple[str, float] | None = None
        self._wrong = 0
        self._devices = {device.digest: device for device in _read(file)}

    def invite(self) -> str:
        """A new secret, good once and for ten minutes; an older one is void."""
        secret = secrets.token_urlsafe(24)
        with self._lock:
            self._wrong = 0
            self._invitation = _digest(secret), self._clock() + INVITATION_S
        return secret

    def sign_in(self, secret: str, name: str) -> str | None:
        """A device's key for its cookie, or None when the secret is wrong, used or too old."""
        with self._lock:
            if not self._take(_digest(secret)):
                self._wrong += 1
                if self._wrong >= MOST_TRIES:
                    self._invitation = None
                return None
            key = secrets.token_urlsafe(32)
            now = self._clock()
            device = Device(
                secrets.token_hex(4), name[:LONGEST_NAME], now, now + SIGN_IN_S, _digest(key)
            )
            self._devices[device.digest] = device
            self._keep()
        return key

    def _take(self, digest: str) -> bool:
        if self._invitation is None:
            return False
        known, until = self._invitation
        if not hmac.compare_digest(known, digest):
            return False
        self._invitation = None
        return until >= self._clock()

    def is_signed_in(self, key: str) -> bool:
        """Whether a key is good."""
        device = self._devices.get(_digest(key))
        return device is not None and device.until >= self._clock()

    def devices(self) -> list[Device]:
        """The devices that are signed in, first come first."""
        now = self._clock()
        return [device for device in list(self._devices.values()) if device.until >= now]

    def revoke(self, device_id: str) -> bool:
        """Take a sign-in back; False where there is none of that name."""
        with self._lock:
            found = [d for d in self._devices.values() if d.id == device_id]
            for device in found:
                del self._devices[device.digest]
            self._keep()
        return bool(found)

    def _keep(self) -> None:
        if self._file is None:
            return
        text = json.dumps([asdict(device) for device in self._devices.values()])
        beside = self._file.with_name(self._file.name + ".part")
        beside.touch(mode=0o600)
        beside.write_text(text, encoding="utf-8")
        beside.replace(self._file)


def _read(file: Path | None) -> list[Device]:
    """The sign-ins in a file; none where it is missing or damaged: devices pair again."""
    if file is None or not file.is_file():
        return []
    try:
        return [Device(**entry) for entry in json.loads(file.read_text(encoding="utf-8"))]
    except (ValueError, TypeError, OSError):
        return []


def _digest(secret: str) -> str:
    return hashlib.sha256(secret.encode("utf-8", "replace")).hexdigest()
