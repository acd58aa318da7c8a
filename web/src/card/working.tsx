/** The whole working of a verdict; every value of the file in it can be written on. */
import type { Working, WorkingInput } from "../sent";
import { useText } from "../state";
import { Look, Ruled } from "./ruled";
import { Says } from "./says";
import { lookOf } from "./words";

export function WorkingOf({ working, print = false }: { working: Working; print?: boolean }) {
  const text = useText();
  const { inputs, steps, limit, sources } = working;
  return (
    <section className="working" aria-label="Working">
      {inputs.length > 0 && (
        <dl className="inputs">
          {inputs.map((input, at) => (
            <Input key={`${at} ${input.symbol}`} input={input} print={print} />
          ))}
        </dl>
      )}
      {steps.map((step, at) => (
        <div className="step" key={at}>
          <p>
            <Says text={step.formula} />
          </p>
          {text(step.filled) !== "" && (
            <p className="filled">
              = <Says text={text(step.filled)} />
            </p>
          )}
          <p className="result">
            = <Says text={text(step.result)} />
          </p>
        </div>
      ))}
      <dl className="foot">
        {text(limit) !== "" && (
          <>
            <dt>limit</dt>
            <dd>
              <Says text={text(limit)} />
            </dd>
          </>
        )}
        {sources.length > 0 && (
          <>
            <dt>{sources.length === 1 ? "source" : "sources"}</dt>
            {sources.map((source) => (
              <dd key={source}>{source}</dd>
            ))}
          </>
        )}
      </dl>
    </section>
  );
}

function Input({ input, print }: { input: WorkingInput; print: boolean }) {
  const text = useText();
  const value = text(input.text);
  const plusMinus = input.tolerance_text ? text(input.tolerance_text) : null;
  const look = lookOf(input.from);
  const place = input.place?.path;
  return (
    <>
      <dt>
        {input.name}
        {input.symbol !== "" && (
          <span className="soft">
            {" "}
            <Says text={input.symbol} />
          </span>
        )}
      </dt>
      <dd>
        {place === undefined || print ? (
          <Look text={value} plusMinus={plusMinus} from={input.from} />
        ) : (
          <Ruled
            place={place}
            name={input.name}
            text={value}
            plusMinus={plusMinus}
            from={input.from}
          />
        )}{" "}
        <span
          className={look === "assumed" || look === "guessed" ? "from strong" : "from soft"}
          title={look === "assumed" ? "Nobody has measured this." : undefined}
        >
          {input.from}
        </span>
      </dd>
    </>
  );
}
