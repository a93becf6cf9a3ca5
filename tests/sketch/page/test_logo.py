"""A logo lies beside the drawing, is no larger than its limits, and names nothing that is read."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from sketch.page.logo import MOST_BYTES, read_logo

pytestmark = pytest.mark.usefixtures("qapp")

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">{}</svg>'
RED = SVG.format('<rect width="40" height="20" fill="#ff0000"/>')


@pytest.mark.parametrize("ending", ["png", "svg"])
def test_a_picture_beside_the_drawing_is_painted_in_its_proportion(ending: str, tmp_path: Path) -> None:
    path = tmp_path / f"logo.{ending}"
    if ending == "svg":
        path.write_text(RED, "utf-8")
    else:
        image = QImage(40, 20, QImage.Format.Format_RGB32)
        image.fill(0xFFFF0000)
        assert image.save(str(path))
    paint, proportion = read_logo(tmp_path, path.name)
    assert proportion == 2.0
    sheet = QImage(100, 50, QImage.Format.Format_RGB32)
    sheet.fill(0xFFFFFFFF)
    painter = QPainter(sheet)
    paint(painter, QRectF(0, 0, 100, 50))
    painter.end()
    assert sheet.pixelColor(50, 25).red() > 200 > 60 > sheet.pixelColor(50, 25).green()


@pytest.mark.parametrize(
    "inside",
    [
        '<image href="file:///etc/hostname" width="9" height="9"/>',
        '<image xlink:href="other.png" xmlns:xlink="http://www.w3.org/1999/xlink"/>',
        '<style>@import "a.css";</style>',
        '<rect fill="url(http://somewhere.example/x)"/>',
        "<script/>",
    ],
)
def test_what_names_something_outside_itself_is_refused(inside: str, tmp_path: Path) -> None:
    (tmp_path / "logo.svg").write_text(SVG.format(inside), "utf-8")
    with pytest.raises(ValueError, match="outside itself"):
        read_logo(tmp_path, "logo.svg")


def test_what_is_missing_too_large_elsewhere_or_no_picture_is_refused(tmp_path: Path) -> None:
    (tmp_path / "big.svg").write_bytes(b" " * (MOST_BYTES[".svg"] + 1))
    (tmp_path / "odd.png").write_bytes(b"no picture")
    wide = QImage(5000, 1, QImage.Format.Format_RGB32)
    wide.fill(0)
    assert wide.save(str(tmp_path / "wide.png"))
    outside = tmp_path / "folder"
    outside.mkdir()
    (outside / "real.svg").write_text(RED, "utf-8")
    (tmp_path / "link.svg").symlink_to(outside / "real.svg")
    for name, why in (
        ("none.svg", "none.svg"),
        ("big.svg", "larger than 512 KiB"),
        ("odd.png", "no PNG"),
        ("wide.png", "4096 pixels"),
        ("link.svg", "no file beside the drawing"),
        ("folder/real.svg", "no file beside the drawing"),
    ):
        with pytest.raises(ValueError, match=why):
            read_logo(tmp_path, name)
    with pytest.raises(ValueError, match="save the drawing first"):
        read_logo(None, "logo.svg")
