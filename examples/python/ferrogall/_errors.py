"""The one exception of the package."""

from __future__ import annotations

from .constants import Status


class FerrogallError(ValueError):
    """The library refused: why, in which argument, and with which number.

    `value` is NaN when no number is to blame or when it was NaN; `argument` may
    be empty.
    """

    def __init__(self, status: int, argument: str, value: float, message: str) -> None:
        super().__init__(status, argument, value, message)
        try:
            self.status: int = Status(status)
        except ValueError:  # of a newer library
            self.status = status
        self.argument = argument
        self.value = value
        self.message = message

    def __str__(self) -> str:
        return self.message
