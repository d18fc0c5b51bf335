"""The command ``plankwright``, also as ``python -m plankwright``."""

import os

# The matrices here are small: threads of the linear algebra cost more than they bring.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def main() -> None:
    """Run the command line."""
    try:
        from plankwright.cli.app import run

        run()
    except KeyboardInterrupt:  # before the commands were there to catch it
        raise SystemExit(130) from None


if __name__ == "__main__":
    main()
