"""The plot of the pressure profile. Importing this module loads pyqtgraph."""

from __future__ import annotations

from itertools import groupby, pairwise

from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from sketch.look.colours import share_class, share_colour
from sketch.model.document import Document
from sketch.plots.clearance import DrawnLine, covered, distance
from sketch.plots.plot import PAD, Plot, PressureAxis, size_of
from sketch.plots.profile import LevelRole, OtherCaseLine, PressureLevel, Profile, Stretch, span
from sketch.plots.profile_reads import BAR, paint_along, paint_band, paint_reads
from sketch.plots.vacuum_axis import VacuumAxis
from sketch.views.ledger_rows import share_figure
from solver.quantities import units
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind
from solver.quantities.wording import gauge_reading

LINE = 4.0  # logical pixels, with a casing of one more on each side
REACH = 14.0  # how near the pointer must come
MOST_SHARES = 24  # written beside the line; more would be past reading
ALONG = (1 / 2, 2 / 3, 1 / 3)  # of a stretch: where its share may be written, the best place first
BESIDE = 190.0  # for the axes, and for the margin written beside the port


class ProfilePlot(Plot):
    """Axes, zoom and pan by pyqtgraph; the line, its levels and labels painted over them in pixels."""

    SIDES = ("left", "bottom", "right")
    _profile: Profile | None = None  # Qt resizes before `__init__` is through

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        self._vacuum = VacuumAxis()
        super().__init__(parent, {"left": PressureAxis("left"), "right": self._vacuum})
        self._document = document
        self._keys: tuple[str, ...] = ()
        self._drawn: list[tuple[Stretch, QPointF, QPointF]] = []
        self._line = DrawnLine()
        self._pressed = QPointF()
        self._fitted = True
        self.sigRangeChanged.connect(self._repaint)
        self.getViewBox().sigRangeChangedManually.connect(self._moved_by_hand)
        document.pointed.connect(self._repaint)
        document.selected.connect(self._repaint)

    def _moved_by_hand(self, *_: object) -> None:
        self._fitted = False

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._profile is not None and self._fitted:
            self.fit()

    def _repaint(self, *_: object) -> None:
        self.viewport().update()

    def show_profile(self, shown: Profile) -> None:
        """Show this profile; the range stays while it still suits the same line."""
        keys = tuple(each.key for each in shown.stretches)
        old = self._profile
        self._profile = shown
        if old is None or (old.x_label, old.y_label) != (shown.x_label, shown.y_label):
            self.setLabel("bottom", shown.x_label)
            self.name_upright("left", shown.y_label)
            self.name_upright("right", shown.vacuum_label)
        self._vacuum.read(shown.atmosphere, _vacuum_per_pressure(shown))
        if old is None or keys != self._keys or old.system != shown.system or not self._suits(shown):
            self.fit()
        self._keys = keys
        self._repaint()

    def fit(self) -> None:
        """Show the whole profile."""
        if self._profile is None or not self._profile.stretches:
            return
        self._fitted = True
        low, high = span(self._profile)
        end = max(each.x1 for each in self._profile.stretches) or 1.0
        room = min(BESIDE / max(self.width() - BESIDE, BESIDE), 0.5)
        self.setRange(xRange=(-0.03 * end, (1.0 + room) * end), yRange=(low, high), padding=0)

    def _suits(self, shown: Profile) -> bool:
        (left, right), (bottom, top) = self.viewRange()
        low, high = span(shown)
        end = max((each.x1 for each in shown.stretches), default=1.0)
        inside: bool = left <= 0 and end <= right and bottom <= low * 1.02 and high <= top * 1.02
        return inside and (high - low) > 0.5 * (top - bottom) and end > 0.5 * (right - left)

    # Where things are

    def stretches(self) -> list[tuple[Stretch, QPointF, QPointF]]:
        """Each segment with its ends in pixels. Elements without length that follow each other at one place
        stand side by side, or a credit would hide behind the loss that takes it back."""
        stretches: list[tuple[Stretch, QPointF, QPointF]] = []
        origin, unit = self.place(0.0, 0.0), self.place(1.0, 1.0) - self.place(0.0, 0.0)

        def place(x: float, y: float) -> QPointF:
            return QPointF(origin.x() + x * unit.x(), origin.y() + y * unit.y())

        for _, together in groupby(self._profile.stretches if self._profile else (), key=_place_key):
            group = list(together)
            upright = group[0].x0 == group[0].x1 and len(group) > 1
            for at, each in enumerate(group):
                aside = QPointF((at - (len(group) - 1) / 2) * (LINE + 4) if upright else 0.0, 0.0)
                stretches.append((each, place(each.x0, each.y0) + aside, place(each.x1, each.y1) + aside))
        return stretches

    def stretch_at(self, x: float, y: float) -> Stretch | None:
        """The nearest segment to a pixel, if it is near enough to be meant."""
        best, nearest = REACH, None
        for each, start, end in self.stretches():
            away = distance(QPointF(x, y), start, end)
            if away < best:
                best, nearest = away, each
        return nearest

    def reading_at(self, x: float, y: float) -> int:
        """The reading, by its number in the file, whose mark lies at a pixel; -1 for none."""
        reads = self._profile.reads if self._profile is not None else ()
        away = {read.number: (self.place(read.x, sum(read.shown) / 2) - QPointF(x, y)).manhattanLength()
                for read in reads}  # fmt: skip
        nearest = min(away, key=away.__getitem__, default=-1)
        return nearest if away.get(nearest, REACH) < REACH else -1

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        if event.buttons() == Qt.MouseButton.NoButton:
            stretch = self.stretch_at(event.position().x(), event.position().y())
            self._document.point(stretch.key if stretch else "")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed = event.position()
        super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        moved = (event.position() - self._pressed).manhattanLength()
        if event.button() is Qt.MouseButton.LeftButton and moved < 4:
            stretch = self.stretch_at(event.position().x(), event.position().y())
            self._document.select(stretch.part if stretch else "")

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.fit()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._document.point("")

    # Painting

    def drawForeground(self, painter: QPainter, rect: QRectF) -> None:
        """Paint the profile over the axes, in pixels."""
        if self._profile is None or not self._profile.stretches:
            return
        area = self.getViewBox().sceneBoundingRect()
        self._drawn = self.stretches()
        self._line = DrawnLine((a.x(), a.y(), b.x(), b.y()) for _, a, b in self._drawn)
        painter.save()
        painter.setClipRect(area)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_along(painter, self.place, self._profile, self._theme)
        occupied: list[QRectF] = []
        for level in self._profile.levels:
            occupied.append(self._rule(painter, level, area))
        if self._profile.band_text:
            occupied.append(paint_band(painter, self.place, self._profile, self._theme, area, self._crossed))
        self._paint_margin(painter, self._profile, area, occupied)
        self._draw_others(painter, self._profile)  # before the names of the levels, which they would strike
        for level in self._profile.levels:
            self._name(painter, level, area, occupied)
        self._name_others(painter, self._profile, area, occupied)
        self._paint_line(painter)
        self._paint_reads(painter, self._profile, area, occupied)
        self._paint_shares(painter, area, occupied)
        self._paint_pointed(painter, self._profile, area)
        painter.restore()

    def _level_colour(self, level: PressureLevel) -> QColor:
        return {LevelRole.FLOOR: self._theme.limit, LevelRole.VAPOR: self._theme.caution}.get(
            level.role, self._theme.construction
        )

    def _rule(self, painter: QPainter, level: PressureLevel, area: QRectF) -> QRectF:
        """Draw the line of a level; the strip that labels must leave to it."""
        y = self.place(0.0, level.y).y()
        floor = level.role == LevelRole.FLOOR
        style = Qt.PenStyle.SolidLine if floor else Qt.PenStyle.DashLine
        painter.setPen(QPen(self._level_colour(level), 2.0 if floor else 1.0, style))
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
        return QRectF(area.left(), y - 1, area.width(), 2)

    def _name(self, painter: QPainter, level: PressureLevel, area: QRectF, occupied: list[QRectF]) -> None:
        """Write what a level is beside its line, or where it lies when that is off the plot."""
        y = self.place(0.0, level.y).y()
        text = f"{level.text} ↓" if y > area.bottom() - 1 else level.text
        box = self._free(size_of(painter, text), min(y, area.bottom() + 2), area, occupied)
        ink = self._level_colour(level) if level.role == LevelRole.FLOOR else self._theme.ink
        self.label(painter, box, text, ink)
        occupied.append(box)

    def _free(self, size: QRectF, y: float, area: QRectF, occupied: list[QRectF]) -> QRectF:
        """A place for a label at a horizontal line that covers neither another label nor the profile."""
        under, over = y + 2, y - size.height() - 2
        places = [
            QRectF(left, top, size.width(), size.height())
            for left in (area.left() + 2 * PAD, area.right() - size.width() - 2 * PAD, area.center().x())
            for top in (under, over)
        ]
        inside = [box for box in places if area.contains(box)] or places
        return min(inside, key=lambda box: (covered(box, occupied), self._crossed(box)))

    def _crossed(self, box: QRectF) -> bool:
        """Whether the profile runs through a rectangle."""
        return self._line.crosses(box, LINE)

    def _paint_margin(self, painter: QPainter, shown: Profile, area: QRectF, occupied: list[QRectF]) -> None:
        last = shown.stretches[-1]
        top, bottom = self.place(last.x1, last.y1), self.place(last.x1, shown.floor)
        colour = self._theme.good if shown.within else self._theme.stop
        painter.setPen(QPen(colour, 1.5))
        painter.drawLine(top, bottom)
        for at in (top, bottom):
            painter.drawLine(at - QPointF(5, 0), at + QPointF(5, 0))
        size = size_of(painter, shown.margin)
        left = min(top.x() + 8, area.right() - size.width() - 2)
        high = max(area.top(), min((top.y() + bottom.y() - size.height()) / 2, area.bottom() - size.height()))
        box = QRectF(left, high, size.width(), size.height())
        self.label(painter, box, shown.margin, colour)
        occupied += [box, QRectF(top, bottom).normalized().adjusted(-6, 0, 6, 0)]

    def _draw_others(self, painter: QPainter, shown: Profile) -> None:
        """The line in other cases, dashed and thin."""
        for other in shown.others:
            painter.setPen(QPen(self._other_colour(other), 1.2, Qt.PenStyle.DashLine))
            painter.drawPolyline([self.place(x, y) for x, y in other.points])

    def _other_colour(self, other: OtherCaseLine) -> QColor:
        return self._theme.quiet if other.sound else self._theme.stop

    def _name_others(self, painter: QPainter, shown: Profile, area: QRectF, occupied: list[QRectF]) -> None:
        """Name the line of each other case, the worst first, at the port or before it where there is room."""
        for other in sorted(shown.others, key=lambda each: (each.sound, each.points[-1][1])):
            middles = (((xa + xb) / 2, (ya + yb) / 2) for (xa, ya), (xb, yb) in pairwise(other.points[::-1]))
            size, along = size_of(painter, other.text), (other.points[-1], *middles)
            boxes = (self._place_off_line(size, self.place(*at), area, occupied) for at in along)
            box = next((box for box in boxes if box is not None), None)
            if box is not None:
                self.label(painter, box, other.text, self._other_colour(other))
                occupied.append(box)

    def _paint_reads(self, painter: QPainter, shown: Profile, area: QRectF, occupied: list[QRectF]) -> None:
        """What gauges have read, each named where there is room."""
        drawn = paint_reads(painter, self.place, shown.reads, self._theme)
        occupied += [QRectF(at.x() - BAR, at.y() - BAR, 2 * BAR, 2 * BAR) for _, at in drawn]
        for read, at in drawn:
            box = self._place_off_line(size_of(painter, read.text), at, area, occupied)
            if box is not None:
                self.label(painter, box, read.text, self._theme.stop if read.over else self._theme.accent)
                occupied.append(box)

    def _paint_line(self, painter: QPainter) -> None:
        solid, cap = Qt.PenStyle.SolidLine, Qt.PenCapStyle.SquareCap
        for each, start, end in self._drawn:
            if each.key == self._document.pointed_key:
                painter.setPen(QPen(self._theme.halo, LINE + 8, solid, cap))
                painter.drawLine(start, end)
        painter.setPen(QPen(self._theme.casing, LINE + 2, solid, cap))
        painter.drawLines([QLineF(start, end) for _, start, end in self._drawn])
        painter.setPen(QPen(self._theme.casing, 1.0))
        painter.drawLines([QLineF(end, start) for (_, _, end), (_, start, _) in pairwise(self._drawn)])
        by_class: dict[int, list[tuple[Stretch, QLineF]]] = {}
        for each, start, end in self._drawn:
            by_class.setdefault(share_class(each.share), []).append((each, QLineF(start, end)))
        for group in by_class.values():
            painter.setPen(QPen(share_colour(group[0][0].share, self._theme), LINE, solid, cap))
            painter.drawLines([line for _, line in group])
        self._hatch(painter)

    def _hatch(self, painter: QPainter) -> None:
        """Dash a credit, and what lies past the floor."""
        back = [QLineF(start, end) for each, start, end in self._drawn if each.is_credit]
        past = [
            QLineF(start + (end - start) * each.past, end)
            for each, start, end in self._drawn
            if each.past < 1 and not each.is_credit
        ]
        for lines, pattern in ((back, [0.4, 2.0]), (past, [0.3, 1.2])):
            dash = QPen(self._theme.casing, LINE, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
            dash.setDashPattern(pattern)
            painter.setPen(dash)
            painter.drawLines(lines)

    def _paint_shares(self, painter: QPainter, area: QRectF, occupied: list[QRectF]) -> None:
        """The share beside the elements that take most, 2 % or more, where there is room for it."""
        worth = [drawn for drawn in self._drawn if abs(drawn[0].share or 0.0) >= 0.02]
        for each, start, end in sorted(worth, key=lambda drawn: -abs(drawn[0].share or 0.0))[:MOST_SHARES]:
            text = f"{each.part} {share_figure(100 * (each.share or 0.0))} %"
            size, along = size_of(painter, text), (start + (end - start) * part for part in ALONG)
            boxes = (self._place_off_line(size, at, area, occupied) for at in along)
            box = next((box for box in boxes if box is not None), None)
            if box is not None:
                self.label(painter, box, text, self._theme.ink)
                occupied.append(box)

    def _place_off_line(
        self, size: QRectF, at: QPointF, area: QRectF, occupied: list[QRectF]
    ) -> QRectF | None:
        """A place beside a point where a label covers nothing."""
        width, height = size.width(), size.height()
        for x, y in (
            (at.x() + 10, at.y() - height - 8),
            (at.x() + 14, at.y() - height / 2),
            (at.x() - 10 - width, at.y() + 8),
            (at.x() - 14 - width, at.y() - height / 2),
            (at.x() + 10, at.y() + 8),
        ):
            box = QRectF(x, y, width, height)
            if area.contains(box) and not any(map(box.intersects, occupied)) and not self._crossed(box):
                return box
        return None

    def _paint_pointed(self, painter: QPainter, shown: Profile, area: QRectF) -> None:
        key = self._document.pointed_key
        pointed = next(((each, end) for each, _, end in self._drawn if each.key == key), None)
        if pointed is None:
            return
        each, at = pointed
        painter.setPen(QPen(self._theme.halo, 1.0, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(at.x(), area.top()), QPointF(at.x(), area.bottom()))
        text = reading(each, shown)
        size = size_of(painter, text)
        right, left = at.x() + 10, at.x() - 10 - size.width()
        over, under = at.y() - 10 - size.height(), at.y() + 10
        places = [
            QRectF(x, y, size.width(), size.height())
            for x, y in ((right, over), (left, under), (right, under), (left, over))
        ]
        inside = [box for box in places if area.contains(box)] or places
        box = next((box for box in inside if not self._crossed(box)), inside[0])
        self.label(painter, box, text, self._theme.ink, self._theme.halo)


def _place_key(each: Stretch) -> tuple[str, float]:
    """What elements without length at one place have in common, and no other two."""
    return ("", each.x0) if each.x0 == each.x1 else (each.key, each.x0)


def reading(each: Stretch, shown: Profile) -> str:
    """What is said of the segment that is pointed at."""
    vacuum = units.from_display(shown.atmosphere - each.y1, Kind.ABSOLUTE, shown.system)
    vapor = next(level.y for level in shown.levels if level.role is LevelRole.VAPOR)
    share = "" if each.share is None else f", {share_figure(100 * each.share)} % of the budget"
    unit = shown.y_label.partition(", ")[2]
    if each.y1 <= vapor:
        return f"{each.name}\nthe column breaks{share}"
    return f"{each.name}\n{each.y1:.{PLACES}f} {unit}, {gauge_reading(vacuum, shown.system, PLACES)}{share}"


def _vacuum_per_pressure(shown: Profile) -> float:
    """Vacuum units in one pressure unit of the display."""
    return units.to_display(units.from_display(1.0, Kind.ABSOLUTE, shown.system), Kind.VACUUM, shown.system)
