"""One shape for everything the server refuses: ``{"error": {message, where, value, remedy}}``."""

from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from pydantic import BaseModel, Field
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse

from plankwright.errors import InputError, PlanFaultError, PlankwrightError, shorten


class Refusal(BaseModel):
    """What is wrong, where, what was given, and what to do about it."""

    message: str = Field(description="What is wrong, in a sentence.")
    where: str = Field(default="", description="The field, the header or the thing it is about.")
    value: str | None = Field(default=None, description="What was given, shortened.")
    remedy: str = Field(default="", description="What to do about it.")


class RefusalBody(BaseModel):
    """The body of every answer that is not a success."""

    error: Refusal = Field(description="What is wrong and what to do.")


class RefusedError(PlankwrightError):
    """A request that cannot be answered, with its HTTP status."""

    def __init__(self, status: int, message: str, *, where: str = "", remedy: str = "") -> None:
        self.status = status
        self.refusal = Refusal(message=message, where=where, remedy=remedy)
        super().__init__(message)


WORDS = {
    400: "What was given cannot be used.",
    401: "This device is not signed in.",
    403: "The server was asked by another name, or the request came from another site.",
    404: "There is no such thing, or not yet.",
    409: "It does not go together with how things are now.",
    413: "Too large, or too slow in coming.",
    422: "Not in the form that is asked for.",
}
EVERYWHERE = (401, 403)


def may_refuse(*codes: int) -> dict[int | str, dict[str, Any]]:
    """For the OpenAPI page: statuses with which a route may refuse, all with one body."""
    return {code: {"model": RefusalBody, "description": WORDS[code]} for code in codes}


# What a route with a body may refuse: it, its size, its form.
BODY = (400, 413, 422)


def refused(status: int, refusal: Refusal) -> JSONResponse:
    """The answer that says no."""
    return JSONResponse({"error": refusal.model_dump()}, status_code=status)


def of_input(error: InputError) -> Refusal:
    """An input error, told."""
    value = None if error.value is None else shorten(error.value)
    return Refusal(message=error.message, where=error.where, value=value, remedy=error.remedy)


def install(app: FastAPI) -> None:
    """Let every exception leave in the one shape."""

    @app.exception_handler(RefusedError)
    async def _refused(_: Request, error: RefusedError) -> JSONResponse:
        return refused(error.status, error.refusal)

    @app.exception_handler(InputError)
    async def _input(_: Request, error: InputError) -> JSONResponse:
        return refused(400, of_input(error))

    @app.exception_handler(PlanFaultError)
    async def _fault(_: Request, error: PlanFaultError) -> JSONResponse:
        return refused(400, Refusal(message=str(error), where="plan"))

    @app.exception_handler(PlankwrightError)
    async def _other(_: Request, error: PlankwrightError) -> JSONResponse:
        return refused(400, Refusal(message=str(error)))

    @app.exception_handler(RequestValidationError)
    async def _form(_: Request, error: RequestValidationError) -> JSONResponse:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        return refused(422, Refusal(message=str(first["msg"]), where=where))

    @app.exception_handler(HTTPException)
    async def _http(_: Request, error: HTTPException) -> JSONResponse:
        answer = refused(error.status_code, Refusal(message=str(error.detail)))
        answer.headers.update(error.headers or {})
        return answer

    @app.exception_handler(Exception)
    async def _defect(_: Request, error: Exception) -> JSONResponse:
        return refused(500, Refusal(message=f"a defect of the program: {type(error).__name__}"))
