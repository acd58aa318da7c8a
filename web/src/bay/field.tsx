/** The picture's field: the bay in ink under its words, or the loop until the bay can be drawn. */
import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState, type KeyboardEvent, type RefObject } from "react";
import { takesLetters } from "../frame/keys";
import { Loop } from "../loop/loop";
import { page as sheet, usePage } from "../state";
import { pickAny } from "../strip/strip";
import { useAsked, wordsOf, missed } from "../chapters/parts";
import { DEGREES_15, away, letGo, lookFrom, measureAnew, measureNow, near, nearerBy, nextLook, setCut, setEngine, setField, setMeasuring, shiftBy, shiftShare, stepCut, takeEnd, turnBy, whole } from "./acts";
import { Bar } from "./bar";
import { calls } from "./calls";
import { flat, type Size } from "./camera";
import type { Bay } from "./form";
import { firstLook, standsAt } from "./looks";
import { endOf, named } from "./marks";
import { hiddenOf, Overlay } from "./overlay";
import type { Painter } from "./painter";
import { paperBay } from "./paper";
import { posed } from "./pose";
import { planeFor, type Plane } from "./section";
import { bayStore, useBayOf } from "./store";
import { orientation, standing } from "./words";

type Late = typeof import("./painter");
let late: Promise<Late> | null = null;
/** The part that draws in space comes when it is first wanted; where it did not come it is asked for again. */
function fetchPainter(): Promise<Late> {
  late ??= import("./painter").catch((why: unknown) => {
    late = null;
    throw why;
  });
  return late;
}

/** Asks for the bay, and keeps it for all who show it. */
export function useBay(): { bay: Bay | null; fault: string | null } {
  const arrangement = usePage((state) => state.arrangement);
  const number = usePage((state) => state.page?.number ?? 0);
  const units = usePage((state) => state.units);
  const boat = usePage((state) => (state.page?.boat ? `${state.page.boat.folder} ${state.page.boat.name}` : ""));
  // Which tool reaches a clip comes behind the first answer: the bay is asked for anew then.
  const settled = usePage((state) => state.page?.settled ?? false);
  const call = useCallback((which: string | null, signal: AbortSignal) => calls.bay(which, units, signal), [units, settled]);
  const { answer, fault } = useAsked(call, arrangement, number);
  useEffect(() => {
    if (answer) {
      bayStore.set({ bay: answer });
    }
  }, [answer]);
  useEffect(() => measureAnew(`${boat} ${number} ${arrangement ?? ""}`), [boat, number, arrangement]);
  useEffect(measureNow, [units]);
  return { bay: answer, fault };
}

export function Field({ bay, fault }: { bay: Bay | null; fault: string | null }) {
  const box = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  const [module, setModule] = useState<Late | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [lost, setLost] = useState(false);
  const returns = usePage((state) => state.returns);
  useLayoutEffect(() => {
    const one = box.current;
    if (!one) {
      return;
    }
    const measure = () => {
      const next = { width: one.clientWidth, height: one.clientHeight };
      setField(next);
      setSize(next);
    };
    const look = new ResizeObserver(measure);
    look.observe(one);
    measure();
    return () => look.disconnect();
  }, []);
  useEffect(() => {
    let wanted = true;
    fetchPainter().then(
      (got) => {
        if (wanted) {
          setModule(got);
          // What could not be drawn is tried again.
          setTrouble(null);
        }
      },
      () => wanted && setTrouble("The part that draws in space did not come; the loop stands in its place."),
    );
    return () => {
      wanted = false;
    };
  }, [returns]);

  const chosen = usePage((state) => state.chosen);
  const view = useBayOf((state) => state.view);
  const look = useBayOf((state) => state.look);
  const cut = useBayOf((state) => state.cut);
  const cutAt = useBayOf((state) => state.cutAt);
  const engine = useBayOf((state) => state.engine);
  const keepOuts = useBayOf((state) => state.keepOuts);
  const drivers = useBayOf((state) => state.drivers);
  const scan = useBayOf((state) => state.scan);
  const moving = useBayOf((state) => state.moving);
  const ends = useBayOf((state) => state.ends);
  const measured = useBayOf((state) => state.measured);
  const measuring = useBayOf((state) => state.measuring);
  const ready = module !== null && bay !== null && trouble === null;
  const painter = usePainter(ready ? module : null, canvas, setTrouble, setLost);
  const now = useMemo(() => bay && posed(bay, engine), [bay, engine]);

  const way = view?.way;
  const plane = useMemo<Plane | null>(
    () => (bay && cut && way ? planeFor(cut, cutAt, bay.axes, way) : null),
    [bay, cut, cutAt, way],
  );
  useEffect(() => {
    if (bay && size.width > 40 && (view === null || bayStore.get().look !== null) && lastField.current !== `${size.width} ${size.height}`) {
      lastField.current = `${size.width} ${size.height}`;
      lookFrom(bay, bayStore.get().look ?? firstLook(bay), sheet.get().chosen, false);
    }
  });
  const lastField = useRef("");

  useEffect(() => {
    if (painter && bay && now) {
      painter.show(now, bay, { chosen, engine, keepOuts, drivers, scan });
    }
  }, [painter, bay, now, chosen, engine, keepOuts, drivers, scan]);
  // In the very frame of the hand's movement: the words over the ink move with it.
  useLayoutEffect(() => {
    if (painter && view) {
      painter.look(view, size, plane, moving);
    }
  }, [painter, view, size, plane, moving]);
  usePoints(painter, bay);
  useInk(painter, box);
  useChosen(bay, chosen, size);
  useGestures(box, painter);
  useLetters(bay, chosen);

  // What stands before what is looked for only when the picture rests.
  const [hidden, setHidden] = useState<ReadonlySet<string>>(new Set());
  useEffect(() => {
    if (!painter || !now || moving) {
      return;
    }
    const soon = setTimeout(() => setHidden(hiddenOf(now, chosen, keepOuts, (at, own) => painter.seen(at, own))), 140);
    return () => clearTimeout(soon);
  }, [painter, now, moving, view, plane, chosen, keepOuts]);

  const told = measured === null ? null : [measured.text, measured.deviation].filter((one) => one !== null && one !== "").join(" ");
  useEffect(() => {
    if (!painter || !now || !view) {
      return;
    }
    const over = { bay: now, view, size, plane, chosen: null, keepOuts, ends: [], measured: null, hidden: new Set<string>() };
    return paperBay(() => ({ image: painter.paper(), ...size, words: <Overlay {...over} /> }));
  }, [painter, now, view, size, plane, keepOuts]);

  const place = look === null ? (view && bay ? standing(view, bay.axes) : "") : standsAt(look);
  const moved = now === bay ? "" : `; engine ${engine}: screws, drivers, bends and gaps are known at rest only`;
  const words = bay && view ? `${place}; ${orientation(view, bay.axes)}${moved}` : "";
  const unscanned = useBayOf((state) => state.unscanned);
  const wrong = lost ? "The browser has lost the drawing in space; it comes back by itself, or when the page is loaded again." : (fault ?? unscanned);
  return (
    <>
      {bay && ready && <Bar bay={bay} />}
      <div
        className={`bay-box${measuring ? " measuring" : ""}`}
        ref={box}
        {...(ready
          ? {
              role: "img",
              tabIndex: 0,
              "aria-label": `${bay.spoken} ${words.slice(0, 1).toUpperCase()}${words.slice(1)}; marks are in the strip`,
              onKeyDown: (event: KeyboardEvent) => onKey(event, bay, chosen),
            }
          : {})}
      >
        {ready ? (
          <>
            <canvas ref={canvas} className="bay-ink" />
            {now && view && size.width > 40 && (
              <Overlay bay={now} view={view} size={size} plane={plane} chosen={chosen} keepOuts={keepOuts} ends={ends} measured={told} hidden={hidden} moving={moving} />
            )}
          </>
        ) : (
          <Loop />
        )}
      </div>
      <p className="bay-foot">
        {ready ? words : fault !== null ? "" : (trouble ?? "bay coming; until then the loop, not to scale")}
        {(ready ? wrong : fault) !== null && <span className="fault"> {ready ? wrong : fault}</span>}
      </p>
    </>
  );
}

function usePainter(module: Late | null, canvas: RefObject<HTMLCanvasElement | null>, setTrouble: (words: string) => void, setLost: (gone: boolean) => void): Painter | null {
  const [painter, setPainter] = useState<Painter | null>(null);
  useEffect(() => {
    const on = canvas.current;
    if (!module || !on) {
      return;
    }
    let made: Painter;
    try {
      made = new module.Painter(on, setLost);
      setLost(false);
    } catch {
      setTrouble("This browser draws nothing in space (its WebGL is off); the loop stands in its place.");
      return;
    }
    setPainter(made);
    return () => {
      setPainter(null);
      made.dispose();
    };
  }, [module, canvas, setTrouble, setLost]);
  return painter;
}

/** The scan's points come after all else. */
function usePoints(painter: Painter | null, bay: Bay | null): void {
  // What nobody answered is asked anew when somebody does.
  const returns = usePage((state) => state.returns);
  const scan = bay?.scan ?? null;
  const laid = scan === null ? null : `${bay?.number} ${scan.triangles}`;
  const arrangement = usePage((state) => state.arrangement);
  useEffect(() => {
    if (!painter) {
      return;
    }
    bayStore.set({ unscanned: null });
    if (laid === null) {
      painter.cloud(null);
      return;
    }
    const gone = new AbortController();
    calls.points(arrangement, gone.signal).then(
      (points) => painter.cloud(points),
      (why: unknown) => {
        if (!gone.signal.aborted) {
          bayStore.set({ unscanned: wordsOf(why) });
          missed(why);
        }
      },
    );
    return () => gone.abort();
  }, [painter, laid, arrangement, returns]);
}

/** The inks are those of the sheet, by day, in red light, in the system's own colours. */
function useInk(painter: Painter | null, box: RefObject<HTMLDivElement | null>): void {
  const night = usePage((state) => state.night);
  const soft = usePage((state) => state.gone || state.page?.locked != null);
  useEffect(() => {
    const one = box.current;
    if (!painter || !one) {
      return;
    }
    const read = () => {
      const probe = document.createElement("span");
      one.append(probe);
      painter.colours((name) => {
        probe.className = `of-${name}`;
        return getComputedStyle(probe).color;
      });
      probe.remove();
    };
    read();
    const asks = ["(forced-colors: active)", "(prefers-contrast: more)"].map((text) => matchMedia(text));
    asks.forEach((ask) => ask.addEventListener("change", read));
    return () => asks.forEach((ask) => ask.removeEventListener("change", read));
  }, [painter, box, night, soft]);
}

/** What is chosen elsewhere comes into the picture; a look along it turns to it. */
function useChosen(bay: Bay | null, chosen: string | null, size: Size): void {
  const last = useRef(chosen);
  useEffect(() => {
    const { view, look } = bayStore.get();
    if (!bay || !view || last.current === chosen) {
      return;
    }
    last.current = chosen;
    if (look === "hose" || look === "driver") {
      lookFrom(bay, look, chosen);
      return;
    }
    const own = named(bay, { chosen, keepOuts: false }).find((one) => one.rank === "chosen");
    const spot = own ? flat(view, size, own.at) : null;
    if (spot && (spot.x < 20 || spot.y < 20 || spot.x > size.width - 20 || spot.y > size.height - 20)) {
      shiftBy(size.width / 2 - spot.x, size.height / 2 - spot.y);
    }
  }, [bay, chosen, size]);
}

/** A press that moves less is no drag [px]. */
const STILL = 5;
/** A drag over so many pixels turns by one radian. */
const RADIAN = 160;

function useGestures(box: RefObject<HTMLDivElement | null>, painter: Painter | null): void {
  useEffect(() => {
    const one = box.current;
    if (!one || !painter) {
      return;
    }
    const down = new Map<number, { x: number; y: number }>();
    let moved = 0;
    let shifting = false;
    const at = (event: PointerEvent | WheelEvent) => {
      const { left, top } = one.getBoundingClientRect();
      return { x: event.clientX - left, y: event.clientY - top };
    };
    const onDown = (event: PointerEvent) => {
      down.set(event.pointerId, at(event));
      one.setPointerCapture(event.pointerId);
      if (down.size === 1) {
        moved = 0;
        shifting = event.button === 2 || event.button === 1 || event.shiftKey;
      } else {
        moved = STILL + 1;
      }
    };
    const onMove = (event: PointerEvent) => {
      const was = down.get(event.pointerId);
      if (!was) {
        return;
      }
      const now = at(event);
      const [dx, dy] = [now.x - was.x, now.y - was.y];
      moved += Math.hypot(dx, dy);
      if (moved <= STILL) {
        return;
      }
      if (down.size === 1) {
        if (shifting) {
          shiftBy(dx, dy, true);
        } else {
          turnBy(dx / RADIAN, dy / RADIAN, true);
        }
      } else {
        const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
        if (other) {
          const before = Math.hypot(was.x - other.x, was.y - other.y);
          const after = Math.hypot(now.x - other.x, now.y - other.y);
          shiftBy(dx / 2, dy / 2, true);
          nearerBy(after / Math.max(before, 1), (now.x + other.x) / 2, (now.y + other.y) / 2, true);
        }
      }
      down.set(event.pointerId, now);
    };
    const onUp = (event: PointerEvent) => {
      if (!down.delete(event.pointerId) || down.size > 0) {
        return;
      }
      if (moved > STILL) {
        letGo();
      } else if (event.type === "pointerup" && event.button === 0) {
        const { x, y } = at(event);
        press(painter, x, y, labelAt(event.clientX, event.clientY));
      }
    };
    let wheel: ReturnType<typeof setTimeout> | undefined;
    const onWheel = (event: WheelEvent) => {
      event.preventDefault();
      const { x, y } = at(event);
      nearerBy(Math.exp(-Math.sign(event.deltaY) * Math.min(Math.abs(event.deltaY), 120) * 0.0018), x, y, true);
      clearTimeout(wheel);
      wheel = setTimeout(letGo, 120);
    };
    const no = (event: Event) => event.preventDefault();
    one.addEventListener("pointerdown", onDown);
    one.addEventListener("pointermove", onMove);
    one.addEventListener("pointerup", onUp);
    one.addEventListener("pointercancel", onUp);
    one.addEventListener("wheel", onWheel, { passive: false });
    one.addEventListener("contextmenu", no);
    return () => {
      clearTimeout(wheel);
      // Nobody is left to say that the hand let go.
      letGo();
      one.removeEventListener("pointerdown", onDown);
      one.removeEventListener("pointermove", onMove);
      one.removeEventListener("pointerup", onUp);
      one.removeEventListener("pointercancel", onUp);
      one.removeEventListener("wheel", onWheel);
      one.removeEventListener("contextmenu", no);
    };
  }, [box, painter]);
}

/** The key of the words under a spot of the window. */
function labelAt(x: number, y: number): string | null {
  for (const one of document.elementsFromPoint(x, y)) {
    const key = one.closest("[data-pick]")?.getAttribute("data-pick");
    if (key != null) {
      return key;
    }
  }
  return null;
}

/** A press chooses a run or a joint everywhere; while measuring it is an end. */
function press(painter: Painter, x: number, y: number, label: string | null): void {
  const hit = label === null ? painter.pick(x, y) : null;
  const key = label ?? hit?.key ?? null;
  const { bay, engine, measuring } = bayStore.get();
  if (!measuring) {
    if (key !== null) {
      pickAny(key);
    }
    return;
  }
  // Of marks and what lies on them the program knows how far they may be off, while the engine rests.
  const known = bay && engine === "rest" && key !== null ? endOf(bay, key) : null;
  if (known && key !== null && label !== null) {
    takeEnd({ key, ...known });
  } else {
    const at = hit ?? painter.pick(x, y);
    if (at) {
      takeEnd({ at: at.at, name: "a point", on: at.on, ...(known && key !== null ? { key } : {}) });
    }
  }
}

function onKey(event: KeyboardEvent, bay: Bay, chosen: string | null): void {
  const side = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (event.ctrlKey || event.altKey || event.metaKey) {
    return;
  }
  if (side) {
    const [x = 0, y = 0] = side;
    if (event.shiftKey) {
      shiftShare(x, y);
    } else {
      turnBy(x * DEGREES_15, y * DEGREES_15);
    }
  } else if (event.key === "+" || event.key === "=") {
    near();
  } else if (event.key === "-") {
    away();
  } else if (event.key === "0") {
    whole(bay, chosen);
  } else {
    return;
  }
  event.preventDefault();
  event.stopPropagation();
}

/** The letters of the bay: look from, section and its step, measure, the engine. */
function useLetters(bay: Bay | null, chosen: string | null): void {
  useEffect(() => {
    if (!bay) {
      return;
    }
    const onLetter = (event: globalThis.KeyboardEvent) => {
      const target = event.target instanceof HTMLElement ? event.target : document.body;
      const { letters, over } = sheet.get();
      if (!letters || over !== null || event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) {
        return;
      }
      if (takesLetters(target as HTMLElement & { type?: string })) {
        return;
      }
      const act = letterOf(event.key, event.shiftKey, bay, chosen);
      if (act) {
        event.preventDefault();
        act();
      }
    };
    addEventListener("keydown", onLetter);
    return () => removeEventListener("keydown", onLetter);
  }, [bay, chosen]);
}

function letterOf(key: string, shift: boolean, bay: Bay, chosen: string | null): (() => void) | null {
  const { cut, measuring, engine } = bayStore.get();
  switch (key) {
    case "v":
      return () => nextLook(bay, chosen);
    case "x":
      return () => setCut(bay, cut === null ? "fore-and-aft" : cut === "fore-and-aft" ? "athwart" : cut === "athwart" ? "level" : null);
    case "[":
    case "{":
      return () => stepCut(bay, -1, shift);
    case "]":
    case "}":
      return () => stepCut(bay, 1, shift);
    case "m":
      return () => setMeasuring(!measuring);
    case "e":
      return bay.moves === null ? null : () => setEngine(engine === "rest" ? "up" : engine === "up" ? "down" : "rest");
    default:
      return null;
  }
}
