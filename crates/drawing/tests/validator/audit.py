"""Opens every DXF below a folder with ezdxf, audits it, and prints what it found: one line of JSON a file."""

import json
import sys
from pathlib import Path

import ezdxf
from ezdxf import bbox

for path in sorted(Path(sys.argv[1]).rglob("*.dxf")):
    document = ezdxf.readfile(path)
    audit = document.audit()
    entities = list(document.modelspace())
    box = bbox.extents((e for e in entities if e.dxftype() != "TEXT"), fast=True)
    print(
        json.dumps(
            {
                "file": path.relative_to(sys.argv[1]).as_posix(),
                "errors": [str(entry.message) for entry in audit.errors],
                "fixes": [str(entry.message) for entry in audit.fixes],
                "units": document.header["$INSUNITS"],
                "count": len(entities),
                "layers": sorted({e.dxf.layer for e in entities}),
                "undefined": sorted({e.dxf.layer for e in entities} - {layer.dxf.name for layer in document.layers}),
                "weights": {layer.dxf.name: layer.dxf.lineweight for layer in document.layers},
                "low": list(box.extmin)[:2] if box.has_data else None,
                "high": list(box.extmax)[:2] if box.has_data else None,
                "texts": [e.dxf.text for e in entities if e.dxftype() == "TEXT"],
            }
        )
    )
