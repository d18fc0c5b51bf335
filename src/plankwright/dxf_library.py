"""The library for DXF, imported so that it leaves nothing behind.

On its import ezdxf writes a list of the computer's fonts into the person's home, whether they are
needed or not; a reader that may write no file leaves an empty one there.
"""

import logging
import os
import sys

CACHE = "XDG_CACHE_HOME"  # the folder it asks for


def load_ezdxf() -> None:
    """Import ezdxf without a file being written and without its remarks on standard error."""
    if "ezdxf" in sys.modules:
        return
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL + 1)
    before = os.environ.get(CACHE)
    os.environ[CACHE] = os.devnull  # no folder: nothing can be made in it
    try:
        import ezdxf  # noqa: F401
    finally:
        if before is None:
            del os.environ[CACHE]
        else:
            os.environ[CACHE] = before
