"""The command ``plankwright``, also as ``python -m plankwright``."""


def main() -> None:
    """Run the command line."""
    from plankwright.cli.app import run

    run()


if __name__ == "__main__":
    main()
