"""Writes qr_matrix: the modules of a QR code of a text of the alphanumeric mode."""
import segno
from common import write

TEXT = "STICK-FITTING:1/MADE:2026-05-04/DEAD-ZONE:0.12"

code = segno.make(TEXT, error="m", boost_error=False, micro=False, mode="alphanumeric")
write(
    "qr_matrix",
    "segno.make(text, error='m', boost_error=False, micro=False, mode='alphanumeric').matrix, without "
    "the quiet zone.",
    ["segno"],
    {
        "text": TEXT,
        "version": code.version,
        "error": code.error,
        "mask": code.mask,
        "matrix": ["".join("1" if dark else "0" for dark in row) for row in code.matrix],
    },
)
