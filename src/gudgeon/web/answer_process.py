"""The process that answers what takes long, apart from the workbench, which takes strokes meanwhile; see `answering`.

It is asked in lines of JSON, {"job": 3, "drawing": {...}, "shops": ["metric"]}, and answers each in one line: the job's
number, then by turns a shop's name and what its windows are told, with tabs between. "ready" is its first line.
"""

import json
import queue
from typing import Any

from gudgeon.report.rows import Shop
from gudgeon.web.beside import only_said, settled, stay
from gudgeon.web.telling import Drawing, answer_texts

_BEHIND = 10  # weights and the drawing itself go first


def answered(job: dict[str, Any]) -> str:
    """A job's answer as a line."""
    texts = answer_texts(Drawing(**job["drawing"]), [Shop(name) for name in job["shops"]])
    return "\t".join([str(job["job"]), *(part for named in texts.items() for part in named)])


def main() -> None:
    """Answer what is asked for until nobody can ask any more."""
    say, jobs = only_said(), queue.SimpleQueue[str]()
    settled()
    say("ready")
    stay(jobs.put, lambda: say(answered(json.loads(jobs.get()))), behind=_BEHIND)


if __name__ == "__main__":
    main()
