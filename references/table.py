"""Writing and comparing the CSV files of sibling rows."""

import csv
import io
import pathlib

ROOT = pathlib.Path(__file__).resolve().parent.parent

HEAD = ["function", "kind", "source"]
TAIL = ["expected", "tolerance"]


class Table:
    """The rows of one CSV file: a fixed set of input columns, and one row a question."""

    def __init__(self, path: str, comment: str, inputs: list[str]) -> None:
        self.path = ROOT / path
        self.comment = comment
        self.inputs = inputs
        self.rows: list[dict[str, str]] = []

    def add(self, function: str, source: str, expected: float, tolerance: float, **inputs) -> None:
        """Adds a row. An input that the function does not have stays empty."""
        unknown = set(inputs) - set(self.inputs)
        if unknown:
            raise KeyError(f"{self.path.name}: no input column {sorted(unknown)}")
        row = {name: str(inputs.get(name, "")) for name in self.inputs}
        row |= {"function": function, "kind": "sibling", "source": source}
        row |= {"expected": f"{expected:.10g}", "tolerance": f"{tolerance:.3g}"}
        self.rows.append(row)

    def text(self) -> str:
        """The file as it is to be committed."""
        out = io.StringIO()
        for line in self.comment.strip().splitlines():
            out.write(f"# {line}\n")
        writer = csv.DictWriter(out, HEAD + self.inputs + TAIL, lineterminator="\n")
        writer.writeheader()
        writer.writerows(self.rows)
        return out.getvalue()

    def write(self) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        self.path.write_text(self.text(), encoding="utf-8")

    def differences(self) -> list[str]:
        """Where the committed file differs from what is computed now, beyond each row's tolerance."""
        name = self.path.relative_to(ROOT)
        if not self.path.exists():
            return [f"{name}: is missing"]
        with self.path.open(encoding="utf-8", newline="") as file:
            committed = list(csv.DictReader(line for line in file if not line.startswith("#")))
        if len(committed) != len(self.rows):
            return [f"{name}: {len(committed)} rows committed, {len(self.rows)} computed"]
        found = []
        for number, (old, new) in enumerate(zip(committed, self.rows), start=1):
            for column in HEAD + self.inputs + ["tolerance"]:
                if old.get(column) != new[column]:
                    found.append(f"{name}: row {number}: {column} is {old.get(column)!r}, not {new[column]!r}")
            if not abs(float(old["expected"]) - float(new["expected"])) <= float(new["tolerance"]):
                found.append(f"{name}: row {number}: {old['expected']} committed, {new['expected']} computed")
        return found
