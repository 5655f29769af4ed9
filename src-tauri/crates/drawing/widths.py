"""Writes src/text/widths.rs: advance widths of Atkinson Hyperlegible Next (SIL OFL 1.1), weight 800, the widest in use.

Usage: npm pack @fontsource/atkinson-hyperlegible-next, unpack it, then (with fonttools and brotli)
  python3 widths.py package/files/atkinson-hyperlegible-next-latin-800-normal.woff2 > src/text/widths.rs
"""

import sys

from fontTools.ttLib import TTFont

font = TTFont(sys.argv[1])
letters, advances, unit = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
wanted = [chr(code) for code in range(32, 127)] + sorted("áéíóúüñÁÉÍÓÚÜÑ¿¡°−·²±")
print("//! Advance widths of Atkinson Hyperlegible Next, weight 800, in thousandths of the size. Written by `widths.py`.\n")
print("/// Letter and its width, by code.")
print("pub(super) const WIDTHS: &[(char, u16)] = &[")
for letter in sorted(wanted):
    shown = {"'": r"\'", "\\": r"\\"}.get(letter, letter)
    print(f"    ('{shown}', {advances[letters[ord(letter)]][0] * 1000 // unit}),")
print("];")
