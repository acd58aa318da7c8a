/**
 * The band table as a real table: for a reader of screens it is the whole of the figures. The
 * drawing shows the figures that fit; each column here lies over its own, so that a press on a
 * figure chooses its joint.
 */
import type { Drawing } from "../sent";
import type { Form } from "../frame/size";
import { usePage } from "../state";
import { reach, rowsSeen } from "./merged";
import { pickAny } from "./strip";

/** As the drawing lays the rows out [px]. */
const ROW = 20;
const FOOT = 6;

export function Band({ drawing, form }: { drawing: Drawing; form: Form }) {
  const answer = usePage((state) => state.page);
  const table = drawing.table;
  if (!table || table.rows.length === 0) {
    return null;
  }
  const seen = rowsSeen(form, table.rows.length);
  const top = drawing.height - FOOT - seen * ROW;
  const name = (key: string | null, at: number) =>
    answer?.marks.find((mark) => mark.key === key)?.mark ??
    drawing.marks.find((mark) => mark.key === key)?.mark ??
    `${at + 1}`;
  return (
    <table
      className="band"
      role="table"
      aria-label="Figures of the joints"
      ref={(own) => {
        if (own) {
          own.style.top = `${top}px`;
          own.style.height = `${seen * ROW}px`;
        }
      }}
    >
      <thead role="rowgroup">
        <tr role="row" className="unseen">
          <th role="columnheader" scope="col">
            joint
          </th>
          {table.columns.map((column, at) => (
            <th role="columnheader" scope="col" key={column.key ?? at}>
              {name(column.key, at)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody role="rowgroup">
        {table.rows.map((row, line) => (
          <tr role="row" key={row.title} className={line < seen ? undefined : "unseen"}>
            <th role="rowheader" scope="row">
              {row.title}
            </th>
            {row.cells.map((cell, at) => (
              <td
                role="cell"
                key={at}
                ref={(own) => {
                  if (own && line < seen) {
                    const half = reach(table.columns, at, 32);
                    own.style.left = `${cell.x - half}px`;
                    own.style.width = `${2 * half}px`;
                    own.style.top = `${line * ROW}px`;
                  }
                }}
                onClick={() => {
                  const key = table.columns[at]?.key;
                  if (key != null) {
                    pickAny(key);
                  }
                }}
              >
                {cell.text}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
