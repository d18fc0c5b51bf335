"""Sharing with the phone: invitations as a code to scan, sign-ins, and taking them back."""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Response
from pydantic import BaseModel, Field

from plankwright.web.guard import COOKIE
from plankwright.web.pairing import INVITATION_S, SIGN_IN_S, Pairing
from plankwright.web.refusals import RefusedError, may_refuse

DeviceId = Annotated[
    str, Path(pattern=r"^[0-9a-f]{8}$", description="The device, as the list names it.")
]
DANGER = (
    "Whoever is on this network can read along: the page goes over plain http. Share only on a "
    "network you trust, and stop the server when you are done."
)


class PairBody(BaseModel):
    """The secret of an invitation and what the device is called."""

    secret: str = Field(max_length=200, description="What stands after # in the link of the code.")
    name: str = Field("Phone", max_length=10_000, description="How the list calls the device.")


def share_router(pairing: Pairing, address: str) -> APIRouter:
    """The routes of sharing; ``address`` is where phones find the server, "" when not shared."""
    router = APIRouter(prefix="/api", tags=["share"])

    @router.get("/share")
    def share() -> dict[str, Any]:
        """Whether phones may come, who is signed in, and the danger.

        Answers `address` (empty when the server is not shared), `danger`, and `devices`: each
        `id`, `name`, and `since` and `until` in seconds since 1970.
        """
        return {
            "address": address,
            "danger": DANGER,
            "devices": [
                {"id": d.id, "name": d.name, "since": d.since, "until": d.until}
                for d in pairing.devices()
            ],
        }

    @router.post("/share/invitation", status_code=201, responses=may_refuse(409))
    def invite() -> dict[str, Any]:
        """A code to scan, good once; refused when the server is not shared.

        Answers `code`, an SVG picture of the link `/pair#SECRET` (what stands after # is never
        sent), and for how many `seconds` it is good. An older code is void then.
        """
        import segno

        if not address:
            raise RefusedError(
                409, "the server is not shared", remedy="Start it with: plankwright serve --share"
            )
        link = f"{address}/pair#{pairing.invite()}"
        code = segno.make(link, error="m").svg_inline(scale=8, border=3)
        return {"code": code, "seconds": INVITATION_S}

    @router.post("/pair", status_code=204, responses=may_refuse(413, 422))
    def pair(body: PairBody, response: Response) -> None:
        """Sign a device in with the secret of an invitation; refused when it was used or is old.

        The answer sets the cookie that lets the device in for two weeks.
        """
        key = pairing.sign_in(body.secret, body.name)
        if key is None:
            raise RefusedError(
                401, "this code was used already or is too old",
                remedy="Let the computer show a new one.",
            )  # fmt: skip
        response.set_cookie(
            COOKIE, key, max_age=int(SIGN_IN_S), httponly=True, samesite="strict", path="/"
        )

    @router.delete("/share/devices/{device_id}", status_code=204, responses=may_refuse(404, 422))
    def revoke(device_id: DeviceId) -> None:
        """Take the sign-in of a device back."""
        if not pairing.revoke(device_id):
            raise RefusedError(404, "there is no such device", where="device")

    return router
