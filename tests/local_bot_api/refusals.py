"""What a call can be refused with."""


class Refused(Exception):
    """A call that is answered with an error; ``is_violation`` when no valid bot would send it."""

    def __init__(
        self,
        status: int,
        description: str,
        *,
        is_violation: bool = False,
        retry_after: int | None = None,
    ) -> None:
        super().__init__(status, description)
        self.status = status
        self.description = description
        self.is_violation = is_violation
        self.retry_after = retry_after


def violation(description: str, *, status: int = 400) -> Refused:
    """A call that breaks the published table or a published limit."""
    prefix = "Bad Request: " if status == 400 else ""
    return Refused(status, prefix + description, is_violation=True)


def bad_request(description: str) -> Refused:
    """A well-formed call that cannot be carried out now (the message is gone, and so on)."""
    return Refused(400, "Bad Request: " + description)
