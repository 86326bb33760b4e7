"""Shows coloured text on a terminal, Debian's python3-pyte, and compares with what is shown without colour:
terminal.py fits|flows COLUMNS... (COLOURED PLAIN)...   a width for each pair of files
fits: no line is wider than its terminal, by Debian's python3-wcwidth. Ends with 1 after saying what is wrong.
"""

import sys

import pyte
import wcwidth

# What xterm shows (XTerm-col.ad) for the names that pyte has for SGR's colours.
PALETTE = {"black": "000000", "red": "cd0000", "green": "00cd00", "brown": "cdcd00", "blue": "0000ee", "magenta": "cd00cd",
           "cyan": "00cdcd", "white": "e5e5e5"}
faults = []


def check(holds, what):
    if not holds:
        faults.append(str(what)[:300])


def contrast(one, other):
    """The ratio of WCAG 2.2, from the relative luminance of both."""
    def luminance(colour):
        parts = [int(colour[at:at + 2], 16) / 255 for at in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear))
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def legible(ink, ground):
    """On a light terminal and on a dark one, three to one: what WCAG 2.2 (1.4.3, 1.4.11) asks of bold words and of drawings."""
    return all(contrast(PALETTE.get(ink, usual_ink), PALETTE.get(ground, usual_ground)) >= 3
               for usual_ink, usual_ground in (("000000", "ffffff"), ("ffffff", "000000")))


class Screen(pyte.Screen):
    """Keeps what the bytes ask of it."""

    def __init__(self, *size):
        self.asked, self.busy = set(), True
        super().__init__(*size)
        self.busy = False

    def __getattribute__(self, name):
        value = super().__getattribute__(name)
        if name not in pyte.Stream.events:
            return value

        def recorded(*arguments, **more):
            if self.busy:  # one asks another
                return value(*arguments, **more)
            self.asked.add(name)
            self.busy = True
            value(*arguments, **more)
            self.busy = False
        return recorded


def screen_of(columns, data):
    screen = Screen(columns, data.count(b"\n") + len(data) // columns + 5)
    lines = data.replace(b"\n", b"\r\n")  # as a terminal's line discipline makes it
    pyte.ByteStream(screen).feed(lines + b".")  # the dot shows what is left over
    return screen


def hold(fits, columns, coloured, plain):
    check(b"\r" not in coloured, "a carriage return")
    screen, bare = screen_of(columns, coloured), screen_of(columns, plain)
    check(screen.asked <= {"draw", "linefeed", "carriage_return", "select_graphic_rendition"}, f"asks for {screen.asked}")
    check(screen.title == screen.icon_name == "", "a title")
    rows, end = [row.rstrip() for row in screen.display], screen.cursor
    check(rows[:end.y] == [row.rstrip() for row in bare.display[:bare.cursor.y]], "colour changes what is read")
    check(end.x == 1 and screen.buffer[end.y][0] == screen.default_char._replace(data="."), "something is left over")
    if fits:
        lines = plain.decode().split("\n")[:-1]
        check(all(wcwidth.wcswidth(line) <= columns for line in lines), [line for line in lines if wcwidth.wcswidth(line) > columns])
        check(rows[:end.y] == [line.rstrip() for line in lines], "the screen shows other lines")
    used = {(cell.fg, cell.bg) for row in screen.buffer.values() for cell in row.values()}
    check(all(legible(*pair) for pair in used), f"hard to read, ink and ground: {[pair for pair in used if not legible(*pair)]}")


def read(name):
    with open(name, "rb") as file:
        return file.read()


fits, files = sys.argv[1] == "fits", sys.argv[2:]
count = len(files) // 3
assert files and len(files) == 3 * count, __doc__
for at in range(count):
    hold(fits, int(files[at]), read(files[count + 2 * at]), read(files[count + 2 * at + 1]))
print("\n".join(faults[:10]))
sys.exit(1 if faults else 0)
