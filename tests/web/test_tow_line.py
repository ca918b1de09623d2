"""A lure towed behind a running workbench: a window looks, draws meanwhile, and leaves."""

import asyncio
import json
import time

from loops import awaited

from gudgeon.web.behind import Behind


def test_a_window_that_looks_is_told_how_it_tows_and_may_draw_meanwhile(serve, small):
    served = serve()
    eye = '[[fitting]]\nname = "tow eye"\nkind = "tow eye"\nat = "1 mm"\nheight = "0 mm"\nwire = "1.2 mm"\n'
    eye += 'weight = "0.5 g"\nmaterial = "stainless steel"\n\n[water]'
    (served.folder / "towed.toml").write_text(small.replace("[water]", eye), encoding="utf-8")
    line = served.line("towed.toml")
    line.socket.send(json.dumps({"kind": "tow", "ask": "look"}))
    while (told := line.until("tow"))["doing"] is None or told["doing"]["done"] < 1:
        pass
    assert told["stamp"] == line.stamp
    started = time.monotonic()
    assert line.lift(15)["kind"] == "kept"  # the tow is given up, and does not stand in the way
    assert time.monotonic() - started < 1.0
    swum = line.until("swum")
    assert swum["stamp"] == line.stamp
    assert swum["headline"]
    assert swum["speeds"] > 3
    motion = served.ask(f"/api/motion?file=towed.toml&stamp={line.stamp}&speed=0")
    assert json.loads(motion.read())["design"] == line.stamp
    for wrong in (f"stamp={line.opened['stamp']}&speed=0", f"stamp={line.stamp}&speed=99",
                  f"stamp={line.stamp}&speed=-1", f"stamp={line.stamp}&speed=x", ""):  # fmt: skip
        assert served.ask(f"/api/motion?file=towed.toml&{wrong}").status == 422
    line.socket.send(json.dumps({"kind": "units", "shop": "inch"}))
    assert line.until("swum")["shop"] == "inch"
    line.close()


def test_what_cannot_be_towed_is_told(serve):
    line = serve().line("small.toml")
    line.socket.send(json.dumps({"kind": "tow", "ask": "look"}))
    assert "nothing to tie" in json.dumps(line.until("swum")["refused"])
    for wrong in ("fly", "", None, 3):
        line.socket.send(json.dumps({"kind": "tow", "ask": wrong}))
    assert line.lift(15)["kind"] == "kept"
    line.close()


def test_a_process_that_is_ended_says_so():
    heard = []

    async def scenario():
        gone = asyncio.get_running_loop().create_future()
        def hear(one, message):
            heard.append(message)
            gone.done() or gone.set_result(one)

        hand = Behind("gudgeon.web.tow_process", json.loads, hear)
        hand.end()
        assert await gone is hand
        hand.ask({"job": 1})  # of no use, and no trouble

    awaited(scenario())
    assert heard[-1] is None
