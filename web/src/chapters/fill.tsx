/** Fill: what to pour, what it stands, and what the verdicts say of it. */
import { api } from "../api";
import type { Page, Text } from "../sent";
import { GradeWord } from "../card/grade";
import { useText } from "../state";
import { Body, Coming, useAsked } from "./parts";

/** What a cell says. */
interface Figure {
  text: Text;
}
type Shown = [name: string, figure: Figure | null];

function Figures({ caption, rows }: { caption: string; rows: Shown[] }) {
  const text = useText();
  return (
    <table className="figures">
      <caption>{caption}</caption>
      <tbody>
        {rows.map(([name, figure]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td className="figure">
              {figure === null ? <GradeWord grade="unmeasured" /> : <>= {text(figure.text)}</>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Fill({ page }: { page: Page }) {
  const text = useText();
  const { answer, fault } = useAsked(api.fill, page.arrangement, page.number);
  if (answer === null) {
    return (
      <Body page={page} chapter="fill">
        <Coming what="Fill" fault={fault} />
      </Body>
    );
  }
  const { fill } = answer;
  const cautions = [...new Set(answer.verdicts.flatMap((one) => (one.caution === undefined ? [] : [one.caution])))];
  // Only what is to be done stands under what to do.
  const steps: Shown[] =
    fill === null
      ? []
      : [
          ...(fill.drain_first === null ? [] : [["drain first", fill.drain_first] as Shown]),
          ["pour first", fill.pour],
          ["then water", fill.water],
        ];
  return (
    <Body page={page} chapter="fill">
      {cautions.map((line) => (
        <p key={line} className="caution">
          <b>Caution</b> {line}
        </p>
      ))}
      {fill === null ? (
        <p>The boat file says nothing of coolant.</p>
      ) : (
        <>
          <p>
            {fill.kind}
            {fill.mix_why !== null && `: ${fill.mix_why}`}
          </p>
          {fill.flush_first && (
            <p>
              <b>Flush the old coolant out first.</b>
              {fill.flushes !== null && ` Drainings and fillings with water: ${fill.flushes}.`}
            </p>
          )}
          <Figures caption="What to pour" rows={steps} />
          <Figures
            caption="In ten litres of mix"
            rows={[
              ["concentrate", fill.pour_in_ten],
              ["water", fill.water_in_ten],
            ]}
          />
          <Figures
            caption="What it stands"
            rows={[
              ["share of concentrate", fill.mix],
              ["freezes at", fill.freezes],
              ["boils, cap off", fill.boils_open],
              ["boils under the cap", fill.boils_under_cap],
              ["grows in the circuit", fill.expands],
              ["up to", fill.expands_to],
            ]}
          />
          <Figures
            caption="With ready mix instead"
            rows={[
              ["share of concentrate", fill.ready_mix],
              ["freezes at", fill.ready_mix_freezes],
            ]}
          />
          <Figures
            caption="What there is"
            rows={[
              ["circuit holds", fill.volume],
              ["stays inside", fill.inside],
              ["share in that", fill.inside_share],
            ]}
          />
        </>
      )}
      <ul className="verdict-lines">
        {answer.verdicts.filter((one) => one.grade !== "sound").map((one) => (
          <li key={one.id}>
            <GradeWord grade={one.grade} />
            <p>{text(one.because)}</p>
          </li>
        ))}
      </ul>
    </Body>
  );
}
