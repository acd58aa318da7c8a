/** A value that pictures and lists look at; whoever looks is drawn again when its part changed. */
import { useSyncExternalStore } from "react";

export interface Store<T> {
  get(): T;
  set(part: Partial<T>): void;
  follow(look: () => void): () => void;
}

export function store<T extends object>(first: T): Store<T> {
  let now = first;
  const looks = new Set<() => void>();
  return {
    get: () => now,
    set(part) {
      const next = { ...now, ...part };
      const keys = Object.keys(part) as (keyof T)[];
      if (keys.every((key) => Object.is(next[key], now[key]))) {
        return;
      }
      now = next;
      for (const look of looks) {
        look();
      }
    },
    follow(look) {
      looks.add(look);
      return () => looks.delete(look);
    },
  };
}

/** One part of a store; `part` must give the same thing for the same state. */
export function useStoreOf<T extends object, P>(of: Store<T>, part: (state: T) => P): P {
  return useSyncExternalStore(of.follow, () => part(of.get()));
}
