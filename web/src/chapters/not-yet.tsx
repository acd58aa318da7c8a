/** A chapter that isn’t there yet says so, in the words that the program gives. */
import type { ComponentType } from "react";

import type { Page } from "../sent";
import { chapterOf } from "../state";

export function notYet(key: string): ComponentType<{ page: Page }> {
  function NotYet({ page }: { page: Page }) {
    const chapter = chapterOf(page, key);
    return (
      <div className={`chapter chapter-${key}`}>
        <p className="chapter-why">{chapter?.why ?? ""}</p>
        {chapter !== undefined && <p className="soft">{chapter.state}</p>}
      </div>
    );
  }
  return NotYet;
}
