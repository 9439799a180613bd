#!/usr/bin/env python3
"""Cuts the pictures of The Winter Bus: `linocuts.py FOLDER`, with Pillow.

Each is drawn in millimetres on 111 × 154, a panel of 105 × 148 with 3 mm bleed, as a block would be cut: ink is
flat, light is gouged out of it in strokes that taper at both ends. The same strokes every time.
"""

import math
import random
import sys
from pathlib import Path

from PIL import Image, ImageChops, ImageDraw, ImageFilter

PPI, OVER = 300, 2
SCALE = PPI * OVER / 25.4
WIDE, HIGH = 111, 154
PAPER, INK, OCHRE = (255, 255, 255), (28, 38, 58), (222, 165, 40)


class Block:
    def __init__(self, seed, ground=PAPER):
        size = (round(WIDE * SCALE), round(HIGH * SCALE))
        self.image = Image.new("RGB", size, ground)
        self.draw = ImageDraw.Draw(self.image)
        self.chance = random.Random(seed)

    def shape(self, points, colour, rough=0.18):
        """A cut outline: straight lines waver as a knife does."""
        cut = []
        for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1]):
            steps = max(1, round(math.hypot(x1 - x0, y1 - y0) / 1.4))
            for step in range(steps):
                at = step / steps
                away = lambda: self.chance.uniform(-rough, rough)
                cut.append((x0 + (x1 - x0) * at + away(), y0 + (y1 - y0) * at + away()))
        self.draw.polygon([(x * SCALE, y * SCALE) for x, y in cut], fill=colour)

    def gouge(self, x, y, angle, length, width, colour=PAPER):
        """One stroke of the gouge around (x, y): broad in the middle, nothing at its ends."""
        along = (math.cos(angle), math.sin(angle))
        bend = self.chance.uniform(-0.06, 0.06) * length
        left, right = [], []
        for step in range(9):
            at = step / 8
            half = width / 2 * math.sin(math.pi * at) ** 0.7
            off = bend * math.sin(math.pi * at)
            cx = x + along[0] * (at - 0.5) * length - along[1] * off
            cy = y + along[1] * (at - 0.5) * length + along[0] * off
            left.append((cx - along[1] * half, cy + along[0] * half))
            right.append((cx + along[1] * half, cy - along[0] * half))
        points = [(a * SCALE, b * SCALE) for a, b in left + right[::-1]]
        self.draw.polygon(points, fill=colour)

    def disc(self, x, y, radius, colour):
        ring = [
            (x + radius * math.cos(turn / 24 * math.tau), y + radius * math.sin(turn / 24 * math.tau))
            for turn in range(24)
        ]
        self.shape(ring, colour, rough=radius * 0.03)

    def road(self, points, colour):
        """A band through points (x, y, width), with round bends."""
        for (x0, y0, w0), (x1, y1, w1) in zip(points, points[1:]):
            steps = max(2, round(math.hypot(x1 - x0, y1 - y0) * 3))
            for step in range(steps + 1):
                at = step / steps
                half = (w0 + (w1 - w0) * at) / 2 + self.chance.uniform(-0.06, 0.06)
                x, y = x0 + (x1 - x0) * at, y0 + (y1 - y0) * at
                box = [x - half, y - half * 0.75, x + half, y + half * 0.75]
                self.draw.ellipse([side * SCALE for side in box], fill=colour)

    def bus(self, x, y, length, slope):
        """The bus seen from its side, its wheels on (x, y)."""
        unit = length / 10
        turn = lambda a, b: (
            x + (a * math.cos(slope) + b * math.sin(slope)) * unit,
            y + (a * math.sin(slope) - b * math.cos(slope)) * unit,
        )
        place = lambda corners: [turn(a, b) for a, b in corners]
        fine = unit * 0.05
        self.shape(place([(-5.4, 0.4), (-5.4, 3.9), (-4.6, 4.7), (4.0, 4.7), (5.4, 2.8), (5.4, 0.4)]), INK, fine)
        self.shape(place([(-5, 0.7), (-5, 3.7), (-4.4, 4.3), (3.8, 4.3), (5, 2.6), (5, 0.7)]), OCHRE, fine)
        for left in (-4.4, -2.7, -1.0, 0.7):
            self.shape(place([(left, 2.4), (left, 3.8), (left + 1.3, 3.8), (left + 1.3, 2.4)]), INK, fine)
        self.shape(place([(2.4, 2.4), (2.4, 3.8), (3.5, 3.8), (4.5, 2.4)]), INK, fine)
        for wheel in (-3.2, 3.1):
            self.disc(*turn(wheel, 0.6), unit * 1.05, INK)
            self.disc(*turn(wheel, 0.6), unit * 0.4, PAPER)

    def fir(self, x, y, high, colour=INK):
        """A fir with snow on its boughs, its foot at (x, y)."""
        for tier in range(5):
            top, foot = y - high * (1 - tier * 0.17), y - high * (0.62 - tier * 0.15)
            half = high * (0.08 + tier * 0.052)
            self.shape([(x, top), (x + half, foot), (x, foot - high * 0.05), (x - half, foot)], colour, high * 0.01)
            snow = PAPER if colour == INK else INK
            self.gouge(x - half * 0.4, foot - high * 0.045, 2.4, half * 0.9, high * 0.035, snow)
        self.shape([(x - high * 0.025, y - high * 0.05), (x + high * 0.025, y - high * 0.05), (x + high * 0.025, y), (x - high * 0.025, y)], colour, 0.02)

    def flat(self):
        """Each pixel one of the three inks, the one that has more than half of it."""
        size = (round(WIDE / 25.4 * PPI), round(HIGH / 25.4 * PPI))
        flat = Image.new("P", size, 0)
        flat.putpalette([part for colour in (PAPER, INK, OCHRE) for part in colour])
        for number, ink in [(2, OCHRE), (1, INK)]:
            bands = [band.point(lambda light, part=part: 255 * (light == part)) for band, part in zip(self.image.split(), ink)]
            mask = ImageChops.darker(ImageChops.darker(bands[0], bands[1]), bands[2]).resize(size, Image.BOX)
            flat.paste(number, mask=mask.point(lambda share: 255 * (share >= 128)))
        return flat


def rounded(points):
    """A line with its corners cut off, three times over."""
    for _ in range(3):
        cut = [points[0]]
        for one, two in zip(points, points[1:]):
            cut.append(tuple(a * 0.75 + b * 0.25 for a, b in zip(one, two)))
            cut.append(tuple(a * 0.25 + b * 0.75 for a, b in zip(one, two)))
        points = cut + [points[-1]]
    return points


def hairpins():
    block = Block(1971)
    chance = block.chance
    # Peaks behind, their shaded sides cut with strokes.
    block.shape([(-2, -2), (113, -2), (113, 62), (-2, 62)], INK)
    block.disc(84, 21, 7.5, PAPER)
    for ring in range(1, 24):
        radius = 7.5 + ring * 3.6
        for stroke in range(10 + ring * 4):
            turn = (stroke + chance.random() * 0.5) / (10 + ring * 4) * math.tau
            x, y = 84 + radius * math.cos(turn), 21 + radius * math.sin(turn)
            block.gouge(x, y, turn + math.pi / 2, 4.2 - ring * 0.1, 0.75 - ring * 0.022)
    block.shape([(-3, 62), (-3, 44), (14, 27), (24, 38), (33, 31), (52, 55), (60, 62)], PAPER, 0.3)
    block.shape([(48, 64), (62, 47), (74, 35), (81, 43), (92, 33), (114, 52), (114, 66)], PAPER, 0.3)
    for x0, y0, x1, y1 in [(14, 27, 22, 60), (33, 31, 44, 60), (74, 35, 82, 62), (92, 33, 103, 62), (24, 38, 27, 60)]:
        for step in range(26):
            at = step / 26
            x, y = x0 + (x1 - x0) * at, y0 + (y1 - y0) * at
            block.gouge(x + 1.6 + 4.5 * at * chance.random(), y + 1.5, 1.15 + chance.uniform(-0.12, 0.12), 4 + 3 * at, 0.85, INK)
    # The slope, and the road up to the notch.
    block.shape([(-3, 157), (-3, 66), (22, 57), (44, 52), (55, 50), (68, 52), (90, 58), (114, 64), (114, 157)], INK, 0.35)
    for _ in range(1500):
        x, y = chance.uniform(-1, 112), chance.uniform(58, 154)
        near = (y - 50) / 104
        fall = math.pi / 2 + (x - 55) / 120
        block.gouge(x, y, fall + chance.uniform(-0.15, 0.15), 0.8 + 4.2 * near, 0.14 + 0.42 * near)
    bends = [(-6, 149, 9.5), (97, 131, 8), (101, 127.5, 7.6), (95, 124.5, 7.2), (14, 108, 5.6), (11, 105.5, 5.2), (16, 103.4, 5),
             (88, 91, 3.8), (90, 89.3, 3.5), (86, 87.7, 3.3), (27, 78, 2.4), (26, 76.7, 2.2), (29, 75.6, 2.1), (75, 68, 1.6),
             (75.6, 67.1, 1.5), (73, 66.3, 1.4), (42, 61, 1), (43, 59.9, 0.9), (62, 56, 0.7), (55, 51.5, 0.5)]
    road = rounded(bends)
    block.road([(x, y + 0.5 + w * 0.1, w + 1.1 + w * 0.12) for x, y, w in road], INK)
    block.road(road, PAPER)
    # Kerb stones on the side of the drop.
    for (x0, y0, w0), (x1, y1, w1) in zip(bends, bends[1:]):
        if abs(x1 - x0) < 20:
            continue
        count = round(abs(x1 - x0) / (1.2 + w0 * 0.55))
        for stone in range(count):
            at = 0.07 + 0.86 * (stone + 0.5) / count
            w = w0 + (w1 - w0) * at
            x, y = x0 + (x1 - x0) * at, y0 + (y1 - y0) * at + w * 0.36
            block.shape([(x - w * 0.07, y), (x - w * 0.07, y - w * 0.2), (x + w * 0.07, y - w * 0.2), (x + w * 0.07, y)], INK, 0.01)
    for x, y, high in [(6, 139, 21), (16, 134, 15), (100, 120, 14), (107, 122, 18), (4, 101, 9), (101, 84, 8), (106, 86, 10), (16, 75, 5)]:
        block.fir(x, y, high, PAPER)
    block.bus(46, 115.2, 15, math.atan2(16.5, 81))
    return block


def tunnel():
    block = Block(1974, INK)
    chance = block.chance
    centre, sill, half, spring = 55.5, 118, 21, 77
    # The rock, course upon course of strokes around the mouth.
    for ring in range(1, 26):
        radius = half + 2 + ring * 3.3
        for stroke in range(18 + ring * 3):
            turn = math.pi + (stroke + chance.uniform(0.1, 0.9)) / (18 + ring * 3) * math.pi
            x, y = centre + radius * math.cos(turn), spring + radius * 1.02 * math.sin(turn)
            block.gouge(x, y, turn + math.pi / 2, 3.4 + ring * 0.14, max(0.16, 0.8 - ring * 0.026))
        for side in (-1, 1):
            y = spring + chance.uniform(0, 3)
            while y < 158:
                reach = max(0.0, (y - sill) * 0.55)
                if radius > half + reach:
                    block.gouge(centre + side * radius, y, math.pi / 2 + side * reach * 0.004, 3 + ring * 0.1, max(0.16, 0.75 - ring * 0.026))
                y += chance.uniform(3.4, 5.2)
    # The mouth, full of snow that has kept the print of the doors.
    arch = [(centre + half * math.cos(math.pi + step / 24 * math.pi), spring + half * math.sin(math.pi + step / 24 * math.pi)) for step in range(25)]
    block.shape(arch + [(centre + half, sill), (centre - half, sill)], PAPER, 0.15)
    for plank in range(-3, 4):
        x = centre + plank * 5.4
        top = spring - math.sqrt(max(0, half**2 - (plank * 5.4) ** 2)) + 1
        block.shape([(x - 0.28, top), (x + 0.28, top), (x + 0.28, sill - 0.6), (x - 0.28, sill - 0.6)], INK, 0.12)
    for rail in (71, 104):
        for plank in range(-4, 4):
            for nail in (1.5, 3.9):
                x = centre + plank * 5.4 + nail
                if abs(x - centre) < half - 1.2:
                    block.disc(x, rail, 0.42, INK)
                    block.disc(x, rail + 3.4, 0.42, INK)
        block.gouge(centre, rail - 1.6, 0, half * 1.9, 0.5, INK)
        block.gouge(centre, rail + 5, 0, half * 1.9, 0.5, INK)
    # Light on the floor, in strokes that come towards us.
    for _ in range(420):
        x, y = chance.uniform(-2, 113), chance.uniform(sill + 1, 157)
        away = (x - centre) / (half + (y - sill) * 0.9)
        if abs(away) < 1:
            block.gouge(x, y, math.pi / 2 - away * 0.75, 2 + (y - sill) * 0.12, (0.3 + (y - sill) * 0.018) * (1.15 - abs(away)))
    # She, with the lamp.
    x, foot = 50, 132
    block.shape([(x - 4.6, foot), (x - 3.9, foot - 15), (x - 3, foot - 20), (x + 2.6, foot - 20), (x + 3.6, foot - 15), (x + 4.2, foot)], INK, 0.12)
    block.shape([(x - 2.6, foot - 1), (x - 2.4, foot + 5), (x - 0.4, foot + 5), (x - 0.3, foot - 1)], INK, 0.08)
    block.shape([(x + 0.5, foot - 1), (x + 0.6, foot + 5.4), (x + 2.6, foot + 5.4), (x + 2.5, foot - 1)], INK, 0.08)
    block.shape([(x + 2, foot - 19.4), (x + 3.4, foot - 18), (x + 9, foot - 12.4), (x + 8, foot - 11.2), (x + 2, foot - 15)], INK, 0.08)
    block.disc(x - 0.2, foot - 22.6, 2.5, INK)
    block.shape([(x - 3, foot - 23), (x - 2.8, foot - 25.4), (x + 2.4, foot - 25.4), (x + 2.6, foot - 23.6), (x + 4.2, foot - 22.8), (x + 2.6, foot - 22.4)], INK, 0.08)
    for ring in range(1, 5):
        for stroke in range(7 + 4 * ring):
            turn = (stroke + chance.random() * 0.4) / (7 + 4 * ring) * math.tau
            block.gouge(x + 9 + (2.6 + ring * 1.9) * math.cos(turn), foot - 8.6 + (2.6 + ring * 1.9) * math.sin(turn), turn, 1.5, 0.5 - ring * 0.06, OCHRE)
    block.shape([(x + 7.2, foot - 6.4), (x + 7.6, foot - 10.6), (x + 8.6, foot - 11.8), (x + 9.4, foot - 11.8), (x + 10.4, foot - 10.6), (x + 10.8, foot - 6.4)], INK, 0.05)
    block.disc(x + 9, foot - 8.7, 1.25, OCHRE)
    block.gouge(x - 0.2, foot - 10, math.pi / 2, 15, 0.45)
    return block


def snow_poles():
    block = Block(1972)
    chance = block.chance
    # The drop side: a flank of snow, cut on its far edge.
    flank = lambda x: 116 - 0.16 * x + 3.2 * math.sin(x / 17) + 1.2 * math.sin(x / 5.3)
    edge = [(x, flank(x)) for x in range(-3, 115, 3)]
    block.shape(edge + [(114, 157), (-3, 157)], INK, 0.2)
    for _ in range(1900):
        x, y = chance.uniform(-2, 113), chance.uniform(100, 157)
        deep = y - flank(x)
        if deep > 1.2:
            block.gouge(x, y, -0.2 + 0.25 * math.cos(x / 17) + chance.uniform(-0.08, 0.08), 3.5 + deep * 0.18, min(1.25, 0.5 + deep * 0.016))
    # Poles of larch, each with as many bands as still stand clear.
    for x, foot, high in [(103, 103.5, 16), (88, 107, 20), (66, 115, 28), (31, 130, 44)]:
        thick = high * 0.022
        block.shape([(x - thick - 0.5, foot + 0.6), (x - thick - 0.5, foot - high - 0.6), (x + thick + 0.5, foot - high - 0.6), (x + thick + 0.5, foot + 0.6)], PAPER, 0.05)
        block.shape([(x - thick, foot), (x - thick, foot - high), (x + thick, foot - high), (x + thick, foot)], OCHRE, 0.08)
        for band in range(3):
            top = foot - high * (0.98 - band * 0.2)
            block.shape([(x - thick, top), (x + thick, top), (x + thick, top + high * 0.09), (x - thick, top + high * 0.09)], INK, 0.06)
        for stroke in range(7):
            block.gouge(x + (stroke - 3) * high * 0.05, foot + 0.4 + abs(stroke - 3) * 0.25, (stroke - 3) * 0.12, high * 0.12, high * 0.02)
    # The wind has hold of what lies loose.
    for _ in range(130):
        x = chance.uniform(-2, 113)
        y = flank(x) - abs(chance.gauss(0, 7)) - 0.8
        if y > 82:
            block.gouge(x, y, -0.32 + chance.uniform(-0.1, 0.1), chance.uniform(1, 3.4), 0.32, INK)
    return block


def first_light():
    block = Block(1973)
    chance = block.chance
    head = [(x, 84 + 1.6 * math.sin(x / 9) + chance.uniform(-0.7, 0.7)) for x in range(-3, 116, 3)]
    block.shape(head + [(114, 157), (-3, 157)], INK, 0.2)
    # Planks, their grain, and the gap that has begun to open.
    gap = 63
    for joint in (8, 26.5, 44, 81, 99):
        block.gouge(joint, 120, math.pi / 2 + chance.uniform(-0.004, 0.004), 80, 0.6)
    for plank in range(7):
        left = [-3, 8, 26.5, 44, gap + 3, 81, 99][plank]
        wide = [11, 18.5, 17.5, 17, 15, 18, 15][plank]
        for line in range(9):
            x = left + 1.6 + (wide - 3.2) * line / 8
            y = 88 + chance.uniform(0, 8)
            while y < 156:
                length = chance.uniform(5, 16)
                near = max(0.0, 1 - abs(x - gap) / 34)
                block.gouge(x + 0.5 * math.sin(y / 6 + plank), y + length / 2, math.pi / 2, length, 0.22 + 0.5 * near)
                y += length + chance.uniform(1.5, 6 - 3 * near)
    block.shape([(gap - 1.3, 85), (gap + 2.6, 85), (gap + 1.2, 157), (gap - 0.4, 157)], PAPER, 0.15)
    # The corner of the shovel.
    block.shape([(gap - 9.5, 112), (gap + 1.5, 95.5), (gap + 15, 104.5), (gap + 4, 121.5)], PAPER, 0.12)
    block.shape([(gap - 8, 111.7), (gap + 1.8, 97.2), (gap + 13.2, 104.9), (gap + 3.6, 119.6)], INK, 0.12)
    for stroke in range(8):
        block.gouge(gap - 3.4 + stroke * 1.75, 110.6 - stroke * 0.4, -0.98, 12 - abs(stroke - 2.5) * 1.3, 0.75)
    for _ in range(70):
        turn, far = chance.uniform(0, math.tau), chance.uniform(11, 19)
        x, y = gap + 2.5 + far * math.cos(turn), 109 + far * math.sin(turn)
        block.gouge(x, y, math.pi / 2 + chance.uniform(-0.05, 0.05), 24 - far, 1.5 - far * 0.06)
    return block


def main():
    folder = Path(sys.argv[1])
    for name, cut in [("hairpins", hairpins), ("tunnel", tunnel), ("snow-poles", snow_poles)]:
        cut().flat().save(folder / f"{name}.png", bits=2, optimize=True, dpi=(PPI, PPI))
    # One is a photograph of the print: grey, and not quite sharp.
    size = (round(WIDE / 25.4 * 240), round(HIGH / 25.4 * 240))
    grey = first_light().image.convert("L").resize(size, Image.LANCZOS)
    grey = grey.filter(ImageFilter.GaussianBlur(0.6)).point(lambda light: 34 + light * 221 // 255 if light < 250 else 255)
    grey.save(folder / "first-light.jpg", quality=60, dpi=(240, 240))


if __name__ == "__main__":
    main()
