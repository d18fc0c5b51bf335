"""A folder of job files planned at once: a table of boards, packs and what was found."""

from pathlib import Path
from tempfile import TemporaryDirectory

import plankwright
from plankwright import Effort

if __name__ == "__main__":
    here = Path(__file__).parent
    with TemporaryDirectory() as folder:
        effort = Effort(moves=500, looks=5)
        for row in plankwright.batch([here], folder, processes=1, effort=effort):
            print(row.name, row.state, row.boards, "boards,", row.packs, "packs")
        print(sorted(path.name for path in Path(folder).iterdir()))
