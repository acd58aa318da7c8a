/** Order: everything to buy, by the shop where it is had. */
import { api } from "../api";
import type { Line, Page } from "../sent";
import { useText } from "../state";
import { bought, byShop, money, paid, parted } from "./shop";
import { Body, Coming, useAsked } from "./parts";

function Shop({ shop, lines }: { shop: string; lines: Line[] }) {
  const text = useText();
  return (
    <table className="order">
      <caption>{shop}</caption>
      <thead>
        <tr>
          <th scope="col">buy</th>
          <th scope="col">what</th>
          <th scope="col">for</th>
          <th scope="col" className="figure">
            price
          </th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={`${line.ware} ${line.name}`}>
            <td className="figure">{bought(line.buy, line.measure)}</td>
            <th scope="row">
              {line.name}
              {line.spare > 0 && (
                <span className="soft"> {bought(line.spare, line.measure)} of it against a wrong size</span>
              )}
              {line.have.map((have) => (
                <span key={have.place ?? ""} className="soft">
                  {" "}
                  and {bought(have.amount, line.measure)} from {have.place ?? "the shelf"}
                </span>
              ))}
              {line.notes.map((note) => (
                <p key={note.metric}>{text(note)}</p>
              ))}
            </th>
            <td>{line.wanted_by.join(", ")}</td>
            <td className="figure">
              {paid(line)}
              {line.days !== null && line.days > 0 && (
                <span className="soft"> {line.days === 1 ? "1 day" : `${line.days} days`}</span>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Order({ page }: { page: Page }) {
  const text = useText();
  const { answer, fault } = useAsked(api.order, page.arrangement, page.number);
  if (answer === null) {
    return (
      <Body page={page} chapter="order">
        <Coming what="Order" fault={fault} />
      </Body>
    );
  }
  const { bought: lines, aboard } = parted(answer.lines);
  return (
    <Body page={page} chapter="order">
      {lines.length === 0 && <p>Nothing is to be bought for what is measured.</p>}
      {byShop(lines).map(({ shop, lines }) => (
        <Shop key={shop} shop={shop} lines={lines} />
      ))}
      {answer.totals.length > 0 && (
        <p>
          In all{" "}
          <b>{answer.totals.map((total) => money(total.amount, total.currency)).join(" and ")}</b>
          {answer.unpriced > 0 &&
            `; ${answer.unpriced === 1 ? "1 line has" : `${answer.unpriced} lines have`} no price`}
          {answer.days !== null && `; the longest takes ${answer.days === 1 ? "1 day" : `${answer.days} days`}`}
        </p>
      )}
      {answer.waits.length > 0 && (
        <section aria-labelledby="waits">
          <h2 id="waits">Can’t be bought yet</h2>
          <ul>
            {answer.waits.map((wait) => (
              <li key={`${wait.what} ${wait.wanted_by.join(" ")}`}>
                <b>{wait.what}</b> for {wait.wanted_by.join(", ")}: {text(wait.because)} {wait.settles.how}
              </li>
            ))}
          </ul>
        </section>
      )}
      {answer.blocked.length > 0 && (
        <section aria-labelledby="blocked">
          <h2 id="blocked">Can’t be made up as it is written</h2>
          <ul>
            {answer.blocked.map((one) => (
              <li key={one.joint}>
                <b>{one.joint}</b>: {text(one.because)}
              </li>
            ))}
          </ul>
        </section>
      )}
      {answer.done.length > 0 && (
        <section aria-labelledby="done">
          <h2 id="done">Taken as done</h2>
          <ul>
            {answer.done.map((one) => (
              <li key={`${one.place} ${one.to}`}>
                {one.place} as <b>{one.to}</b>: {text(one.because)}
              </li>
            ))}
          </ul>
        </section>
      )}
      {(answer.shelf.length > 0 || aboard.length > 0) && (
        <section aria-labelledby="shelf">
          <h2 id="shelf">From what you have</h2>
          <ul>
            {aboard.map((line) => (
              <li key={`${line.ware} ${line.name}`}>
                {line.have.map((have) => `${bought(have.amount, line.measure)} from ${have.place ?? "the shelf"}`).join(", ")}
                {": "}
                <b>{line.name}</b> for {line.wanted_by.join(", ")}
              </li>
            ))}
            {answer.shelf.map((one) => (
              <li key={`${one.hose} ${one.place ?? ""}`}>
                cut from <b>{one.hose}</b>
                {one.place !== null && ` (${one.place})`}:{" "}
                {[...one.pieces.map((piece) => piece.piece), ...one.at_most].join(", ")}
              </li>
            ))}
          </ul>
        </section>
      )}
      {answer.stays.length > 0 && <p>Stays as it is: {answer.stays.join(", ")}</p>}
    </Body>
  );
}
