"""Let the installed Calc recalculate a workbook and write what it shows as a PDF."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

from lumbercalc.hosts.calc.install import put_in
from lumbercalc.hosts.calc.office import CalcError, find_office, run

SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
<item oor:path="/org.openoffice.Office.Common/Security/Scripting">
<prop oor:name="BlockUntrustedRefererLinks" oor:op="fuse"><value>true</value></prop>
</item>
</oor:items>
"""
"""Recalculate everything on load: otherwise Calc shows the values that are stored. Follow nothing
that the workbook links, a picture above all, which Calc would fetch from the net or the disk."""


def pdf_of(workbook: Path) -> bytes:
    """Recalculate a workbook in Calc and print its visible sheets to a PDF.

    It runs in a profile of its own that has the add-in and is thrown away, so that a Calc that is
    open meanwhile is left alone.

    Parameters
    ----------
    workbook : Path
        An .xlsx file; it is only read.

    Returns
    -------
    bytes
        Of the PDF.

    Raises
    ------
    CalcError
        Calc is missing, did not take the add-in, or wrote no PDF.
    """
    found = find_office()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        office = replace(found, profile=Path(folder) / "user", shared=Path(folder) / "shared")
        settings = office.user_profile / "user" / "registrymodifications.xcu"
        settings.parent.mkdir(parents=True)
        settings.write_text(SETTINGS, encoding="utf-8")
        put_in(office)
        said = run(
            [
                office.soffice,
                *office.options,
                "--headless",
                "--norestore",
                "--convert-to",
                "pdf:calc_pdf_Export",
                "--outdir",
                folder,
                workbook,
            ]
        )
        written = Path(folder) / f"{workbook.stem}.pdf"
        if not written.is_file():
            reason = " ".join(said.stderr.split())[:200] or "it gave no reason"
            raise CalcError(f"Calc wrote no PDF of {workbook.name}: {reason}")
        return written.read_bytes()
