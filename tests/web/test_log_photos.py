"""Pictures through the workbench: kept as the terminal keeps them, shown made anew, and what would do harm refused."""

import hashlib
import io
import json
import struct
import zlib
from urllib.parse import urlencode

import pytest
from PIL import Image
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.shop.log import Log
from gudgeon.shop.records import Photo


def jpeg(size=(1600, 900), colour="peru", **more):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG", **more)
    return out.getvalue()


def bomb(width, height):
    """A PNG of a few hundred bytes that says it is as large as that."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 9000)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(kind, data) for kind, data in parts)


class Pictures:
    """The page's requests about pictures."""

    def __init__(self, served, shop):
        self.served, self.shop = served, shop

    def bring(self, content, *, lure=1, name="side.jpg", **asked):
        query = urlencode({"lure": lure, "name": name, **asked})
        return self.served.told(f"/api/log/photo?{query}", method="POST", body=content)

    def lure(self, number=1):
        return self.served.told(f"/api/log/lure?number={number}")

    def kept(self):
        return sorted(path.name for path in self.shop.glob("photos/*"))


@pytest.fixture
def pictures(serve, tmp_path, small):
    with Log.start(tmp_path / "shop") as log:
        log.add_pattern(small)
        log.add_lures("Small floater", 2)
    return Pictures(serve(), tmp_path / "shop")


def words(answer):
    return " ".join(f"{fault['place']}: {fault['words']}" for fault in answer["refused"]["faults"])


def test_a_picture_is_kept_as_the_terminal_keeps_it(pictures, tmp_path):
    """Page and terminal make the same record and the same file of the same picture."""
    content = jpeg()
    answer = pictures.bring(content, shows="left side, rigged")
    assert answer["words"] == f"Entry {answer['entry']}: photo of lure 1, name side.jpg, shows left side, rigged."
    (tmp_path / "side.jpg").write_bytes(content)
    done = CliRunner().invoke(app, ["log", "photo", "2", str(tmp_path / "side.jpg"), "--shows", "left side, rigged",
                                    "--shop", str(pictures.shop)])  # fmt: skip
    assert done.exit_code == 0
    with Log.look(pictures.shop) as log:
        assert log.lure(1).of(Photo)[0][1] == log.lure(2).of(Photo)[0][1]
    assert pictures.kept() == [f"{hashlib.sha256(content).hexdigest()}.jpg"]
    told = pictures.lure()["photos"]
    assert told == [{"number": answer["entry"], "name": "side.jpg", "shows": "left side, rigged", "there": True,
                     "shown": True, "done": told[0]["done"]}]  # fmt: skip


def test_what_is_shown_is_made_anew_and_what_is_saved_is_as_it_came(pictures):
    """The small picture is upright and carries none of the camera's words; the whole one is the file, byte for byte."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010E] = 6, "<script>alert(1)</script>"
    content = jpeg((1600, 900), exif=exif)
    entry = pictures.bring(content)["entry"]
    shown = pictures.served.ask(f"/api/log/picture?entry={entry}")
    assert (shown.status, shown.headers["content-type"], shown.headers["x-content-type-options"]) == (
        200, "image/jpeg", "nosniff")  # fmt: skip
    with Image.open(io.BytesIO(shown.content)) as small:
        assert small.format == "JPEG"
        assert small.height == 1000 > small.width
        assert not small.getexif()
    assert b"script" not in shown.content
    whole = pictures.served.ask(f"/api/log/take/photo?entry={entry}")
    assert whole.content == content
    assert whole.headers["content-disposition"] == f"attachment; filename*=UTF-8''photo-{entry}.jpg"
    assert whole.headers["content-type"] == "image/jpeg"


HOSTILE = [
    (b"", "nothing is in it"),
    (b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>", "no picture"),
    (b"<!doctype html><script>alert(1)</script>", "no picture"),
    (b"GIF89a" + bytes(40), "a GIF"),
    (jpeg()[:400], "damaged or cut short"),
    (b"\xff\xd8\xff" + b"<script>" * 90, "JPEG, PNG and WebP are read"),
    (bomb(30_000, 30_000), "pixels"),
    (bomb(7_200, 7_200), "7200 x 7200 pixels"),
    (bomb(600, 600), "damaged or cut short"),
]
"""A file that is brought as a picture, and words of the refusal."""


@pytest.mark.parametrize(("content", "said"), HOSTILE, ids=range(len(HOSTILE)))
def test_what_is_no_sound_picture_is_refused_and_nothing_is_kept(pictures, content, said):
    assert said in words(pictures.bring(content))
    assert pictures.kept() == []
    assert pictures.lure()["photos"] == []


def test_a_file_too_large_is_given_up(pictures, monkeypatch):
    monkeypatch.setattr("gudgeon.answers.picture.LARGEST_PICTURE", 5_000)
    assert "larger than 5 kB; save the picture smaller" in words(pictures.bring(jpeg((3000, 2000))))
    assert pictures.kept() == []


NAMES = ["../../etc/passwd", "..", "a/b.jpg", "C:\\x.jpg", "\x00.jpg", "", "   ", "x\r\nSet-Cookie: a=b.jpg"]


def test_a_name_that_is_a_path_is_refused(pictures):
    for name in NAMES:
        assert "no plain name" in words(pictures.bring(jpeg((80, 60)), name=name))
    assert "keep it under 120" in words(pictures.bring(jpeg((80, 60)), name="x" * 200))
    assert "does not print" in words(pictures.bring(jpeg((80, 60)), shows="\x1b[2J"))
    assert "shows those there are" in words(pictures.bring(jpeg((80, 60)), lure=99))
    assert "no number" in words(pictures.bring(jpeg((80, 60)), lure="../1"))
    assert pictures.kept() == []


def test_a_name_with_markup_is_words(pictures):
    entry = pictures.bring(jpeg((80, 60)), name="<img src=x onerror=alert(1)>.jpg")["entry"]
    answer = pictures.served.ask("/api/log/lure?number=1")
    assert answer.headers["content-type"] == "application/json"
    assert json.loads(answer.content)["photos"][0]["name"] == "<img src=x onerror=alert(1)>.jpg"
    saved = pictures.served.ask(f"/api/log/take/photo?entry={entry}").headers["content-disposition"]
    assert saved == f"attachment; filename*=UTF-8''photo-{entry}.jpg"


def test_only_what_the_log_names_is_served(pictures, tmp_path):
    """Another entry, none at all, a path for a hash, a file that is gone or another: each refused in words."""
    (tmp_path / "secret.jpg").write_bytes(jpeg((90, 60)))
    (pictures.shop / "photos").mkdir()
    (pictures.shop / "photos" / "stray.jpg").write_bytes(jpeg((90, 60)))
    with Log.open(pictures.shop) as log:
        outside = log.enter_as_kept(1, Photo("x.jpg", "../../secret", "jpg"))
        stray = log.enter_as_kept(1, Photo("x.jpg", "stray", "jpg"))
    whole = pictures.bring(jpeg((80, 60)))["entry"]
    changed = pictures.bring(jpeg((80, 60), "navy"))["entry"]
    gone = pictures.bring(jpeg((80, 60), "olive"))["entry"]
    with Log.look(pictures.shop) as log:
        files = {entry.number: entry.what.file for entry in log.history(1) if isinstance(entry.what, Photo)}
    (pictures.shop / "photos" / files[changed]).write_bytes(jpeg((80, 60), "red"))
    (pictures.shop / "photos" / files[gone]).unlink()
    for path in ("picture", "take/photo"):
        for entry in (1, 999, outside, stray, changed, gone, "..%2F1", "-1", ""):
            answer = pictures.served.ask(f"/api/log/{path}?entry={entry}")
            assert answer.status == 422
            assert json.loads(answer.content)["refused"]["faults"]
        assert pictures.served.ask(f"/api/log/{path}?entry={whole}").status == 200
    assert pictures.served.ask(f"/api/log/picture?entry={whole}", Origin="", Sec_Fetch_Site="cross-site").status == 403
    assert pictures.served.ask("/api/log/photo?lure=1&name=a.jpg", method="POST", body=jpeg((80, 60)),
                               Origin="http://elsewhere.example").status == 403  # fmt: skip
