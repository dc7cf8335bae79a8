"""What every part of a picture is drawn with: the sheet, the scene, how much room there is."""

from __future__ import annotations

from dataclasses import dataclass

from bot.picture.facts import Scene
from bot.picture.shapes import INK, MARGIN, RIGHT, SMALL, Density, Face, Measure, Shape, Sheet, Words
from bot.picture.words import shorten, wrap


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws on `sheet`, downwards: `y` is how far it has come."""

    sheet: Sheet
    scene: Scene
    density: Density
    measure: Measure

    @property
    def y(self) -> float:
        return self.sheet.height

    def down(self, pixels: float) -> float:
        """Leave so much room, and say where that ends."""
        self.sheet.height += pixels
        return self.sheet.height

    def add(self, *shapes: Shape) -> None:
        self.sheet.shapes += shapes

    def beneath(self, *shapes: Shape) -> None:
        """Add shapes under all that is drawn otherwise."""
        self.sheet.grounds += shapes

    def fitted(self, text: str, room: float, face: Face) -> str:
        return shorten(text, room, face, self.measure)

    def wrapped(self, text: str, room: float, face: Face, most: int) -> list[str]:
        return wrap(text, room, face, self.measure, most)

    def heading(self, text: str, face: Face, above: float) -> None:
        """A line of its own across the width, `above` pixels from what precedes it to its baseline."""
        self.add(Words(MARGIN, self.down(above), self.fitted(text, RIGHT - MARGIN, face), face, halo=True))

    def paragraph(self, text: str, face: Face, line: float, most: int, colour: str = INK) -> None:
        """Lines across the width, at most so many."""
        for piece in self.wrapped(text, RIGHT - MARGIN, face, most):
            self.add(Words(MARGIN, self.down(line), piece, face, colour))

    def named_lane(self, name: str, face: Face, first: float) -> float:
        """Write a name and leave room for a lane: beside the name where the lane's first bar, at `first`,
        leaves it that much, below it otherwise. The top of the lane.
        """
        line, lane = self.density.line, self.density.lane
        name = self.fitted(name, RIGHT - MARGIN, face)
        if MARGIN + self.measure(name, face) + 16 > first:
            self.add(Words(MARGIN, self.down(line), name, face, halo=True))
            return self.down(13)
        self.add(Words(MARGIN, self.y + 8 + lane / 2 + face.size * 0.36, name, face, halo=True))
        return self.down(8)

    def room_for(self, *texts: str, face: Face = SMALL) -> float:
        """The width of the widest."""
        return max((self.measure(text, face) for text in texts), default=0)
