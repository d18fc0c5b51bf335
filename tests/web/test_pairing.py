"""Pairing: once, for a time, taken back; what is kept tells nobody the secret."""

from pathlib import Path

import httpx
import pytest
from tests.web.server import caller, running

from plankwright.web.app import make_app
from plankwright.web.job_store import JobStore
from plankwright.web.pairing import INVITATION_S, MOST_TRIES, SIGN_IN_S, Pairing


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


def test_a_secret_is_good_once() -> None:
    pairing = Pairing(Clock())
    secret = pairing.invite()
    key = pairing.sign_in(secret, "Phone")
    assert key is not None
    assert pairing.is_signed_in(key)
    assert pairing.sign_in(secret, "Phone") is None
    assert not pairing.is_signed_in(key + "x")


def test_a_newer_invitation_voids_the_older() -> None:
    pairing = Pairing(Clock())
    older = pairing.invite()
    pairing.invite()
    assert pairing.sign_in(older, "Phone") is None


def test_invitations_and_sign_ins_end() -> None:
    clock = Clock()
    pairing = Pairing(clock)
    secret = pairing.invite()
    clock.now += INVITATION_S + 1
    assert pairing.sign_in(secret, "Phone") is None
    key = pairing.sign_in(pairing.invite(), "Phone")
    assert key is not None
    clock.now += SIGN_IN_S + 1
    assert not pairing.is_signed_in(key)
    assert pairing.devices() == []


def test_guessing_voids_the_invitation() -> None:
    pairing = Pairing(Clock())
    secret = pairing.invite()
    for _ in range(MOST_TRIES):
        assert pairing.sign_in("guess", "x") is None
    assert pairing.sign_in(secret, "Phone") is None


def test_sign_ins_outlast_the_server_and_can_be_taken_back(tmp_path: Path) -> None:
    file = tmp_path / "devices"
    first = Pairing(Clock(), file)
    key = first.sign_in(first.invite(), "x" * 500)
    assert key is not None
    assert key not in file.read_text()
    assert file.stat().st_mode & 0o077 == 0
    second = Pairing(Clock(), file)
    assert second.is_signed_in(key)
    (device,) = second.devices()
    assert len(device.name) == 60
    assert second.revoke(device.id)
    assert not second.revoke(device.id)
    assert not Pairing(Clock(), file).is_signed_in(key)


@pytest.mark.parametrize("text", ["", "[1]", '[{"id": 1}]', "\x00"])
def test_a_damaged_file_of_sign_ins_lets_nobody_in(tmp_path: Path, text: str) -> None:
    file = tmp_path / "devices"
    file.write_text(text)
    assert Pairing(Clock(), file).devices() == []


def test_the_whole_way_over_http(tmp_path: Path) -> None:
    pairing = Pairing(Clock())
    app = make_app(JobStore(tmp_path / "jobs"), pairing, "http://192.168.7.2:8377")
    with running(app) as address, caller(address) as here:
        shown = here.get("/api/share").json()
        assert "plain http" in shown["danger"]
        code = here.post("/api/share/invitation").json()["code"]
        assert code.startswith("<svg")
        secret = pairing.invite()
        wrong = httpx.post(
            f"{address}/api/pair", json={"secret": "wrong", "name": "P"}, headers=here.headers
        )
        assert wrong.status_code == 401
        paired = httpx.post(
            f"{address}/api/pair", json={"secret": secret, "name": "<b>P</b>"}, headers=here.headers
        )
        cookie = paired.headers["set-cookie"].lower()
        assert paired.status_code == 204
        assert "httponly" in cookie
        assert "samesite=strict" in cookie
        assert secret not in cookie
        (device,) = here.get("/api/share").json()["devices"]
        assert device["name"] == "<b>P</b>"
        assert here.delete(f"/api/share/devices/{device['id']}").status_code == 204
        assert here.get("/api/share").json()["devices"] == []


def test_a_server_that_is_not_shared_invites_nobody(client: httpx.Client) -> None:
    assert client.get("/api/share").json()["address"] == ""
    assert client.post("/api/share/invitation").status_code == 409
