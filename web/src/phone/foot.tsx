/** The four keys at the foot of a phone, in every chapter but Survey and Get home. */

export type FootKey = "next" | "verdicts" | "pictures" | "chapters";

const WORDS: [FootKey, string][] = [
  ["next", "Next"],
  ["verdicts", "Verdicts"],
  ["pictures", "Pictures"],
  ["chapters", "Chapters"],
];

export function Foot({ at, onKey }: { at: FootKey | null; onKey: (key: FootKey) => void }) {
  return (
    <nav className="phone-foot" aria-label="Parts of the sheet">
      {WORDS.map(([key, word]) => (
        <button
          key={key}
          type="button"
          className="key"
          aria-current={key === at ? "true" : undefined}
          onClick={() => onKey(key)}
        >
          {word}
        </button>
      ))}
    </nav>
  );
}
