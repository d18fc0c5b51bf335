"""The command ``plankwright``, also as ``python -m plankwright``."""


def main() -> None:
    """Run the command line."""
    try:
        from plankwright.cli.app import run

        run()
    except KeyboardInterrupt:  # before the commands were there to catch it
        raise SystemExit(130) from None


if __name__ == "__main__":
    main()
