/**
 * What the phone holds until the boat's computer has it: entries in the order in which they were kept, and the
 * draft of each box. It lies in IndexedDB, so that a lost link, a reload and a killed tab take nothing away.
 */

/** One value that was kept. */
export interface Kept {
  /** Order of keeping; given by the store. */
  seq: number;
  /** Its own random name, by which the boat's computer drops what comes twice. */
  id: string;
  /** Which boat it is for: a phone may be handed to another. */
  boat: string;
  place: string;
  /** What is written on the hose; empty where there is no mark. */
  mark: string;
  /** What was asked, for people. */
  title: string;
  text: string;
  instrument: string | null;
  note: string | null;
  /** When, by the phone's clock. */
  at: string;
  /** The value that stood there when it was measured. */
  saw: string | null;
  /** Why the boat's computer would not have it; null while it waits. */
  refused: string | null;
  /** It was only asked back: sent again as meant, it is taken. */
  asks?: boolean;
  /** Whoever took it was asked back, and means it. */
  meant?: boolean;
}

export type Fresh = Omit<Kept, "seq">;

/** What was pressed for a box and is not kept yet; `pad` is plain data of the page. */
export interface Draft {
  boat: string;
  place: string;
  pad: unknown;
}

/** What the survey wants of a store. */
export interface Store {
  /** Resolves once the entry is safely down, not before. */
  add(entry: Fresh): Promise<Kept>;
  all(): Promise<Kept[]>;
  /** Writes an entry over the one of the same order. */
  put(entry: Kept): Promise<void>;
  /** Takes an entry away, but only while it still has that name: an amended one has another. */
  drop(seq: number, id: string): Promise<void>;
  /** Marks an entry as refused, but only while it still has that name. */
  refuse(seq: number, id: string, why: string, asks: boolean): Promise<void>;
  draft(boat: string, place: string): Promise<Draft | null>;
  /** Stores a draft; null takes it away. */
  setDraft(boat: string, place: string, pad: unknown): Promise<void>;
}

const NAME = "hosewright";
const ENTRIES = "entries";
const DRAFTS = "drafts";

function opened(factory: IDBFactory): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = factory.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(ENTRIES, { keyPath: "seq", autoIncrement: true });
      request.result.createObjectStore(DRAFTS, { keyPath: ["boat", "place"] });
    };
    request.onsuccess = () => {
      const base = request.result;
      // A newer page of another tab may want to change the form: it must not wait for this one.
      base.onversionchange = () => base.close();
      resolve(base);
    };
    request.onerror = () => reject(request.error ?? new Error("This browser opens no store."));
    request.onblocked = () => reject(new Error("Another tab holds the store. Close it."));
  });
}

/** One transaction; resolves when it is complete, which is later than when its requests are done. */
function within<T>(base: IDBDatabase, name: string, mode: IDBTransactionMode, act: (store: IDBObjectStore, give: (value: T) => void) => void): Promise<T> {
  return new Promise((resolve, reject) => {
    let value: T;
    // Strict: the browser has handed it to the disk before it says complete.
    const own = base.transaction(name, mode, { durability: "strict" });
    own.oncomplete = () => resolve(value);
    own.onabort = () => reject(own.error ?? new Error("The browser gave the store up."));
    own.onerror = () => reject(own.error ?? new Error("The browser could not write."));
    act(own.objectStore(name), (given) => {
      value = given;
    });
  });
}

/** The store of this browser. */
export function browserStore(factory: IDBFactory = indexedDB): Store {
  let base: Promise<IDBDatabase> | null = null;
  const get = (): Promise<IDBDatabase> => {
    base ??= opened(factory).then(
      (own) => {
        own.onclose = () => {
          base = null;
        };
        return own;
      },
      (why: unknown) => {
        // The next try opens anew.
        base = null;
        throw why;
      },
    );
    return base;
  };
  const changed = async (seq: number, id: string, change: (store: IDBObjectStore, entry: Kept) => void): Promise<void> => {
    await within<void>(await get(), ENTRIES, "readwrite", (store) => {
      const request = store.get(seq) as IDBRequest<Kept | undefined>;
      request.onsuccess = () => {
        const entry = request.result;
        if (entry !== undefined && entry.id === id) change(store, entry);
      };
    });
  };
  return {
    async add(entry) {
      const seq = await within<number>(await get(), ENTRIES, "readwrite", (store, give) => {
        const request = store.add(entry);
        request.onsuccess = () => give(request.result as number);
      });
      return { ...entry, seq };
    },
    async all() {
      return within<Kept[]>(await get(), ENTRIES, "readonly", (store, give) => {
        const request = store.getAll() as IDBRequest<Kept[]>;
        request.onsuccess = () => give(request.result);
      });
    },
    async put(entry) {
      await within<void>(await get(), ENTRIES, "readwrite", (store) => void store.put(entry));
    },
    drop: (seq, id) => changed(seq, id, (store) => void store.delete(seq)),
    refuse: (seq, id, why, asks) => changed(seq, id, (store, entry) => void store.put({ ...entry, refused: why, asks })),
    async draft(boat, place) {
      return within<Draft | null>(await get(), DRAFTS, "readonly", (store, give) => {
        const request = store.get([boat, place]) as IDBRequest<Draft | undefined>;
        request.onsuccess = () => give(request.result ?? null);
      });
    },
    async setDraft(boat, place, pad) {
      await within<void>(await get(), DRAFTS, "readwrite", (store) => {
        if (pad === null) store.delete([boat, place]);
        else store.put({ boat, place, pad } satisfies Draft);
      });
    },
  };
}
