"""A log on a disk that runs full, then has room again; what it says and still holds, as one line of JSON.

Run by test_crashes.py: python full_disk.py FOLDER FILLER LARGEST; FILLER is a file on the same disk to erase, or "-";
LARGEST the largest file in bytes that this process may write, or 0
"""

import json
import resource
import sys
from pathlib import Path

from gudgeon.errors import BadShop
from gudgeon.shop.database import check_whole
from gudgeon.shop.log import Log
from gudgeon.shop.records import Note

WORDS = "looked over before the season " * 100


def main(folder: Path, filler: str, largest: int) -> None:
    """Enter notes and a picture until the disk is full; make room; go on."""
    usual = resource.getrlimit(resource.RLIMIT_FSIZE)
    picture = folder.parent / "large.jpg"
    said, numbers = [], []
    with Log.open(folder) as log:
        if largest:
            resource.setrlimit(resource.RLIMIT_FSIZE, (largest, usual[1]))
        try:
            for _ in range(5000):
                numbers.append(log.note(1, Note(WORDS)))
        except BadShop as refusal:
            said.append(str(refusal))
        if picture.exists():
            try:
                log.photo(1, picture)
            except BadShop as refusal:
                said.append(str(refusal))
        left = sorted(path.name for path in (folder / "photos").glob("*"))
        resource.setrlimit(resource.RLIMIT_FSIZE, usual)
        if filler != "-":
            Path(filler).unlink()
        after = log.note(1, Note("there is room again"))
        check_whole(log.database)
        stand = sum(log.entry(number).what == Note(WORDS) for number in numbers)
    print(json.dumps({"said": said, "told": len(numbers), "stand": stand, "after": after - numbers[-1],
                      "left": left}))  # fmt: skip


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))
