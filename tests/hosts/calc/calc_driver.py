"""Drive a headless Calc from its own Python: one JSON request a line in, one JSON reply a line out.

Started by the tests as ``calc_driver.py PORT`` on an interpreter that has the uno module.
"""

import json
import sys
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.lang import DisposedException

FILTERS = {
    "xlsx": "Calc MS Excel 2007 XML",
    "ods": "calc8",
    "pdf": "calc_pdf_Export",
    "csv": "Text - txt - csv (StarCalc)",
}
ERRORS = 4  # com.sun.star.sheet.FormulaResult.ERROR
TO_BOTTOM = uno.Enum("com.sun.star.sheet.FillDirection", "TO_BOTTOM")
FORMULAS = 16  # com.sun.star.sheet.CellFlags.FORMULA


def properties(**values):
    return tuple(PropertyValue(name, 0, value, 0) for name, value in values.items())


def column_letters(column):
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


class Driver:
    def __init__(self, port, patience=60.0):
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext(
            "com.sun.star.bridge.UnoUrlResolver", local
        )
        url = f"uno:socket,host=127.0.0.1,port={port};urp;StarOffice.ComponentContext"
        until = time.monotonic() + patience
        while True:
            try:
                self.context = resolver.resolve(url)
                break
            except NoConnectException:
                if time.monotonic() > until:
                    raise
                time.sleep(0.1)
        self.desktop = self.service("com.sun.star.frame.Desktop")
        self.document = None

    def service(self, name):
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    def new(self):
        self.close()
        self.document = self.desktop.loadComponentFromURL(
            "private:factory/scalc", "_blank", 0, properties(Hidden=True)
        )

    def open(self, path):
        self.close()
        url = uno.systemPathToFileUrl(path)
        self.document = self.desktop.loadComponentFromURL(url, "_blank", 0, properties(Hidden=True))
        if self.document is None:
            raise ValueError("Calc cannot open " + path)

    def close(self):
        if self.document is not None:
            self.document.close(True)
            self.document = None

    def calculate(self):
        started = time.perf_counter()
        self.document.calculateAll()
        return time.perf_counter() - started

    def refresh(self):
        """Calculate what hangs on changed cells."""
        started = time.perf_counter()
        self.document.calculate()
        return time.perf_counter() - started

    def sheets(self):
        return list(self.document.Sheets.ElementNames)

    def sheet(self, name):
        sheets = self.document.Sheets
        return sheets.getByName(name) if name else sheets.getByIndex(0)

    def formula(self, cell, formula, sheet=""):
        self.sheet(sheet).getCellRangeByName(cell).setFormula(formula)

    def array(self, cells, formula, sheet=""):
        self.sheet(sheet).getCellRangeByName(cells).setArrayFormula(formula)

    def fill(self, cell, rows, sheet=""):
        """Set numbers, texts and formulas from a first cell on."""
        target = self.sheet(sheet)
        first = target.getCellRangeByName(cell).CellAddress
        block = target.getCellRangeByPosition(
            first.Column,
            first.Row,
            first.Column + len(rows[0]) - 1,
            first.Row + len(rows) - 1,
        )
        if any(isinstance(value, str) and value.startswith("=") for row in rows for value in row):
            block.setFormulaArray(tuple(tuple(str(value) for value in row) for row in rows))
        else:
            block.setDataArray(tuple(tuple(row) for row in rows))

    def fill_down(self, cells, sheet=""):
        """Copy the first row of some cells down, as one does with the mouse."""
        self.sheet(sheet).getCellRangeByName(cells).fillAuto(TO_BOTTOM, 1)

    def put_in_column(self, letter, sheet):
        """Insert an empty column before another."""
        place = self.sheet(sheet).getCellRangeByName(letter + "1").CellAddress.Column
        self.sheet(sheet).Columns.insertByIndex(place, 1)

    def put_in_row(self, row, sheet):
        """Insert an empty row before another."""
        self.sheet(sheet).Rows.insertByIndex(row - 1, 1)

    def delete_row(self, row, sheet):
        self.sheet(sheet).Rows.removeByIndex(row - 1, 1)

    def hide_blank(self, cells, sheet):
        """Filter a column with its header for what is not empty."""
        column = self.sheet(sheet).getCellRangeByName(cells)
        chosen = column.createFilterDescriptor(True)
        chosen.ContainsHeader = True
        not_empty = uno.createUnoStruct("com.sun.star.sheet.TableFilterField")
        not_empty.Operator = uno.Enum("com.sun.star.sheet.FilterOperator", "NOT_EMPTY")
        chosen.setFilterFields((not_empty,))
        column.filter(chosen)

    def count_from(self, year, month, day):
        """Set the day from which the document counts days."""
        self.document.NullDate = uno.createUnoStruct("com.sun.star.util.Date", day, month, year)

    def rename(self, sheet, name):
        self.sheet(sheet).setName(name)

    def shown(self, cell, sheet=""):
        """Give the text that a cell shows."""
        return self.sheet(sheet).getCellRangeByName(cell).String

    def read(self, sheet=""):
        """Give [address, formula, kind, value, error] of every cell that is not empty."""
        source = self.sheet(sheet)
        cursor = source.createCursor()
        cursor.gotoEndOfUsedArea(False)
        last = cursor.RangeAddress
        block = source.getCellRangeByPosition(0, 0, last.EndColumn, last.EndRow)
        values, formulas = block.getDataArray(), block.getFormulaArray()
        errors = {}
        for part in block.queryFormulaCells(ERRORS).RangeAddresses:
            for row in range(part.StartRow, part.EndRow + 1):
                for column in range(part.StartColumn, part.EndColumn + 1):
                    errors[row, column] = source.getCellByPosition(column, row).getError()
        calculated = set()
        for part in block.queryContentCells(FORMULAS).RangeAddresses:
            for row in range(part.StartRow, part.EndRow + 1):
                for column in range(part.StartColumn, part.EndColumn + 1):
                    calculated.add((row, column))
        cells = []
        for row, (line, typed) in enumerate(zip(values, formulas)):  # noqa: B905 - for old Pythons
            for column, (value, formula) in enumerate(zip(line, typed)):  # noqa: B905
                if formula == "" and value == "" and (row, column) not in calculated:
                    continue
                address = column_letters(column) + str(row + 1)
                formula = formula if (row, column) in calculated else ""
                if (row, column) in errors:
                    cells.append([address, formula, "error", None, errors[row, column]])
                else:
                    kind = "text" if isinstance(value, str) else "number"
                    cells.append([address, formula, kind, value, 0])
        return cells

    def functions(self):
        """Give name, help and arguments (name and help) of every function that Calc knows."""
        descriptions = self.service("com.sun.star.sheet.FunctionDescriptions")
        known = []
        for index in range(descriptions.Count):
            entry = {part.Name: part.Value for part in descriptions.getByIndex(index)}
            arguments = [[a.Name, a.Description] for a in entry["Arguments"] or ()]
            known.append([entry["Name"], entry["Description"], arguments])
        return known

    def basic(self, modules, function, calls):
        """Call a function of Basic modules, which stand in a workbook of their own."""
        self.close()
        self.document = self.desktop.loadComponentFromURL(
            "private:factory/scalc", "_blank", 0, properties(Hidden=True, MacroExecutionMode=4)
        )
        library = self.document.BasicLibraries.createLibrary("Standard")
        for name, text in modules.items():
            library.insertByName(name, text)
        script = self.document.ScriptProvider.getScript(
            f"vnd.sun.star.script:Standard.{function}?language=Basic&location=document"
        )
        return [script.invoke(tuple(arguments), (), ())[0] for arguments in calls]

    def store(self, path):
        kind = path.rsplit(".", 1)[-1]
        self.document.storeToURL(
            uno.systemPathToFileUrl(path), properties(FilterName=FILTERS[kind], Overwrite=True)
        )

    def quit(self):
        self.close()
        try:
            self.desktop.terminate()
        except DisposedException:  # it was quicker than its answer
            return


def main():
    driver = Driver(int(sys.argv[1]))
    print(json.dumps({"result": "ready"}), flush=True)
    for line in sys.stdin:
        request = json.loads(line)
        try:
            result = getattr(driver, request["do"])(*request["with"])
            reply = {"result": result}
        except Exception as error:
            reply = {"error": f"{type(error).__name__}: {error}"}
        print(json.dumps(reply), flush=True)


if __name__ == "__main__":
    main()
