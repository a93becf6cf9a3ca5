"""What can stop a window from opening, each said plainly before Qt aborts or the interpreter does.

Nothing here imports Qt: the message must come out when Qt cannot.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import importlib.metadata
import importlib.util
import os
import re
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

PACKAGES: Mapping[str, str] = {
    "libEGL.so": "libegl1",
    "libGL.so": "libgl1",
    "libX11-xcb.so": "libx11-xcb1",
    "libX11.so": "libx11-6",
    "libdbus-1.so": "libdbus-1-3",
    "libfontconfig.so": "libfontconfig1",
    "libfreetype.so": "libfreetype6",
    "libglib-2.0.so": "libglib2.0-0",
    "libgthread-2.0.so": "libglib2.0-0",
    "libwayland-client.so": "libwayland-client0",
    "libwayland-cursor.so": "libwayland-cursor0",
    "libxcb-cursor.so": "libxcb-cursor0",
    "libxcb-icccm.so": "libxcb-icccm4",
    "libxcb-image.so": "libxcb-image0",
    "libxcb-keysyms.so": "libxcb-keysyms1",
    "libxcb-randr.so": "libxcb-randr0",
    "libxcb-render-util.so": "libxcb-render-util0",
    "libxcb-render.so": "libxcb-render0",
    "libxcb-shape.so": "libxcb-shape0",
    "libxcb-shm.so": "libxcb-shm0",
    "libxcb-sync.so": "libxcb-sync1",
    "libxcb-util.so": "libxcb-util1",
    "libxcb-xfixes.so": "libxcb-xfixes0",
    "libxcb-xkb.so": "libxcb-xkb1",
    "libxcb.so": "libxcb1",
    "libxkbcommon-x11.so": "libxkbcommon-x11-0",
    "libxkbcommon.so": "libxkbcommon0",
}
"""Debian and Ubuntu packages by the library they bring."""

NEEDED: Mapping[str, int] = {
    "libglib-2.0.so": 0,
    "libGL.so": 1,
    "libEGL.so": 1,
    "libxkbcommon.so": 0,
    "libdbus-1.so": 3,
    "libfontconfig.so": 1,
    "libxcb-cursor.so": 0,
    "libxkbcommon-x11.so": 0,
    "libxcb-icccm.so": 4,
    "libxcb-keysyms.so": 1,
    "libxcb-shape.so": 0,
}
"""What a window under X11 needs, by the version of its interface; whatever else it needs comes with these."""

WINDOWLESS = ("offscreen", "minimal", "vnc")


def pair_problem(python: tuple[int, int], pyside: str) -> str:
    """Why this PySide6 must not run on this Python; "" when it may.

    PySide6 6.12 loses a reference to None on every call that returns nothing, which is harmless only where
    None is immortal (Python 3.12, PEP 683); before that the interpreter aborts within a second of painting.
    """
    version = tuple(int(part) for part in re.findall(r"\d+", pyside)[:2])
    if python >= (3, 12) or version < (6, 12):
        return ""
    return (
        f"PySide6 {pyside} aborts on Python {python[0]}.{python[1]}. "
        'Install an earlier one: pip install "PySide6-Essentials<6.12", or use Python 3.12 or newer.'
    )


def installed_pair_problem() -> str:
    """`pair_problem` of the interpreter that runs and the PySide6 it would import."""
    try:
        pyside = importlib.metadata.version("PySide6-Essentials")
    except importlib.metadata.PackageNotFoundError:
        return ""
    return pair_problem(sys.version_info[:2], pyside)


def missing_library(error: BaseException, load: Callable[[str], object] = ctypes.CDLL) -> str:
    """Every system library that is missing, with one line that installs them; "" when `error` names none.

    The loader names the first one only: the others that a window needs are asked for, by `load`.
    """
    match = re.search(r"(lib[\w.+-]+?\.so)[.\d]*: cannot open shared object file", str(error))
    if not match:
        return ""
    missing = list(dict.fromkeys([match[1], *(name for name in NEEDED if not _loads(name, load))]))
    names, word = ", ".join(missing), "library" if len(missing) == 1 else "libraries"
    verb = "is" if len(missing) == 1 else "are"
    text = f"The window needs the system {word} {names}, which {verb} not installed."
    packages = " ".join(dict.fromkeys(PACKAGES[name] for name in missing if name in PACKAGES))
    return f"{text} On Debian or Ubuntu: sudo apt-get install {packages}" if packages else text


def _loads(name: str, load: Callable[[str], object]) -> bool:
    try:
        load(f"{name}.{NEEDED[name]}")
    except OSError:
        return False
    return True


def display_problem(environ: Mapping[str, str], platform: str = sys.platform) -> str:
    """Why no window can open on this machine; "" when one can, or when Qt is told to draw without one."""
    if not _asks_x11(environ, platform):
        return ""
    display = environ.get("DISPLAY")
    if not display:
        return "There is no display here: neither DISPLAY nor WAYLAND_DISPLAY is set."
    return _x11_server_problem(display)


def _asks_x11(environ: Mapping[str, str], platform: str) -> bool:
    windowless = environ.get("QT_QPA_PLATFORM", "").partition(":")[0] in WINDOWLESS
    return platform.startswith("linux") and not windowless and not environ.get("WAYLAND_DISPLAY")


def plugin_problem(environ: Mapping[str, str], platform: str = sys.platform) -> str:
    """The system library that Qt's X11 plugin would miss, with its package; "" when it misses none.

    Qt itself aborts and blames libxcb-cursor whichever one is missing, so the loader is asked first.
    """
    if not _asks_x11(environ, platform):
        return ""
    spec = importlib.util.find_spec("PySide6")
    if spec is None or spec.origin is None:
        return ""
    plugin = Path(spec.origin).parent / "Qt" / "plugins" / "platforms" / "libqxcb.so"
    if not plugin.exists():
        return ""
    try:
        ctypes.CDLL(os.fspath(plugin))
    except OSError as error:
        return missing_library(error)
    return ""


def _x11_server_problem(display: str) -> str:
    """Whether the X server answers: Qt aborts when it does not, which no program can catch."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return ""  # `plugin_problem` names it
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = [ctypes.c_char_p, ctypes.c_void_p]
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(display.encode(), None)
    refused = bool(xcb.xcb_connection_has_error(connection))
    xcb.xcb_disconnect(connection)
    return f"There is no display here: nothing answers at DISPLAY {display}." if refused else ""


def examples_folder() -> Path | None:
    """The example drawings: beside the package when installed, beside the source tree otherwise."""
    package = Path(__file__).resolve().parent
    for folder in (package / "layouts", package.parent / "layouts"):
        if folder.is_dir():
            return folder
    return None
