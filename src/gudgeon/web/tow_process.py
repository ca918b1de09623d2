"""The process that tows, apart from the workbench, so that the drawing is answered meanwhile; see `tows`.

It is asked in lines of JSON, {"job": 3, "text": "...", "file": "a.toml", "tries": false}: a job ends the one before,
and one without a text does nothing else. It answers in lines too: how far a job is, then what came of it.
"""

import contextlib
import json
import logging
import queue
from collections.abc import Callable

from gudgeon.answers.tow_runs import Progress
from gudgeon.answers.tow_test import TowTest, tow_test, with_changes
from gudgeon.design.file import parse, stamp
from gudgeon.errors import Fault, Refusal
from gudgeon.report.rows import Shop
from gudgeon.web.beside import only_said, stay
from gudgeon.web.calls import Json, refused
from gudgeon.web.tow_told import motions, tow_told


class GivenUp(Exception):
    """Another job is wanted."""


class Tower:
    """Tows one lure at a time."""

    def __init__(self, say: Callable[[Json], None]) -> None:
        self._say = say
        self._wanted = 0
        self._jobs: queue.SimpleQueue[Json] = queue.SimpleQueue()
        self._last: tuple[str, TowTest] | None = None

    def hear(self, line: str) -> None:
        """Take a job in; the one under way gives up at its next tow."""
        job = json.loads(line)
        self._wanted = job["job"]
        self._jobs.put(job)

    def work(self) -> None:
        """Do the next job that is still wanted."""
        job = self._jobs.get()
        if "text" not in job:
            return
        with contextlib.suppress(GivenUp):
            self._say({"job": job["job"], "kind": "towed", **self._answer(job)})

    def _answer(self, job: Json) -> Json:
        try:
            found = self._found(job)
            self._last = job["text"], found
            told = {shop.value: tow_told(found, shop) for shop in Shop}
            answer = {"told": told, "motions": motions(found, stamp(job["text"]))}
            json.dumps(answer, allow_nan=False)
        except Refusal as refusal:
            return {"refused": refused(refusal)}
        except GivenUp:
            raise
        except Exception as error:
            logging.getLogger("gudgeon").exception("this lure cannot be towed")
            words = f"{type(error).__name__}: {error}; the terminal tells more"
            return {"refused": refused(Refusal("gudgeon itself failed on this tow", [Fault("gudgeon", words)]))}
        return answer

    def _found(self, job: Json) -> TowTest:
        def stage(words: str) -> Progress:
            self._tell(job, words, 0, 0)
            return lambda done, of: self._tell(job, words, done, of)

        text = job["text"]
        if self._last is not None and self._last[0] == text:
            found = self._last[1]
            return with_changes(found, stage) if job["tries"] and found.changes is None else found
        return tow_test(parse(text, job["file"]), changes=job["tries"], stage=stage)

    def _tell(self, job: Json, words: str, done: int, of: int) -> None:
        """Say how far it is; raises GivenUp when another job is wanted."""
        if job["job"] != self._wanted:
            raise GivenUp
        self._say({"job": job["job"], "kind": "doing", "words": words, "done": done, "of": of})


def main() -> None:
    """Tow what is asked for until nobody can ask any more."""
    say = only_said()
    tower = Tower(lambda message: say(json.dumps(message, allow_nan=False)))
    stay(tower.hear, tower.work, behind=10)  # the drawing goes first


if __name__ == "__main__":
    main()
