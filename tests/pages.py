"""PDF files for tests, as small as they can be written."""

from __future__ import annotations


def pdf(*pages: list[tuple[int, int, str]]) -> bytes:
    """A PDF in Courier 10 whose pages hold texts at places, counted in points from the lower left."""
    objects = [b"<< /Type /Font /Subtype /Type1 /BaseFont /Courier >>"]
    kids = []
    for page in pages:
        said = "\n".join(f"BT /F1 10 Tf {x} {y} Td ({text}) Tj ET" for x, y, text in page).encode("latin-1")
        objects.append(b"<< /Length %d >>\nstream\n%s\nendstream" % (len(said), said))
        objects.append(
            b"<< /Type /Page /Parent 99 0 R /MediaBox [0 0 612 792] /Contents %d 0 R "
            b"/Resources << /Font << /F1 1 0 R >> >> >>" % len(objects)
        )
        kids.append(b"%d 0 R" % len(objects))
    tree, catalog = len(objects) + 1, len(objects) + 2
    objects.append(b"<< /Type /Pages /Kids [%s] /Count %d >>" % (b" ".join(kids), len(kids)))
    objects.append(b"<< /Type /Catalog /Pages %d 0 R >>" % tree)
    out, places = b"%PDF-1.4\n", []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body.replace(b"/Parent 99 0 R", b"/Parent %d 0 R" % tree))
    table = b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    table += b"".join(b"%010d 00000 n \n" % place for place in places)
    end = b"trailer << /Size %d /Root %d 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, catalog, len(out))
    return out + table + end
