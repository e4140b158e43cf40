/** Tables of the browser's own database, where drafts, recent reviews and settings are kept. */
export type Table = 'drafts' | 'contents' | 'recent' | 'settings';

const tables: readonly Table[] = ['drafts', 'contents', 'recent', 'settings'];
const databaseName = 'a-scan-workbench';

let opened: Promise<IDBDatabase> | null = null;

/** Opened once. What could not be opened, or was closed by the browser, is opened anew when it is next needed: work goes on being kept. */
function database(): Promise<IDBDatabase> {
  opened ??= open().catch((error: unknown) => {
    opened = null;
    throw error;
  });
  return opened;
}

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(databaseName, 1);
    request.onupgradeneeded = () => {
      for (const table of tables) request.result.createObjectStore(table);
    };
    request.onsuccess = () => {
      request.result.onclose = () => {
        opened = null;
      };
      resolve(request.result);
    };
    request.onerror = () => reject(refused(request.error));
  });
}

async function done<T>(
  table: Table,
  mode: IDBTransactionMode,
  ask: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  // Through to the disk before it is said to be kept.
  const transaction = (await database()).transaction(table, mode, { durability: 'strict' });
  const request = ask(transaction.objectStore(table));
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve(request.result);
    transaction.onerror = () => reject(refused(transaction.error));
    transaction.onabort = () => reject(refused(transaction.error));
  });
}

export function get<T>(table: Table, key: string): Promise<T | undefined> {
  return done(table, 'readonly', (store) => store.get(key) as IDBRequest<T | undefined>);
}

export function put(table: Table, key: string, value: unknown): Promise<IDBValidKey> {
  return done(table, 'readwrite', (store) => store.put(value, key));
}

/** All of them or none. */
export async function putAll(table: Table, entries: ReadonlyMap<string, unknown>): Promise<void> {
  const transaction = (await database()).transaction(table, 'readwrite');
  for (const [key, value] of entries) transaction.objectStore(table).put(value, key);
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = () => reject(refused(transaction.error));
    transaction.onabort = () => reject(refused(transaction.error));
  });
}

export function remove(table: Table, key: string): Promise<undefined> {
  return done(table, 'readwrite', (store) => store.delete(key));
}

export function clear(table: Table): Promise<undefined> {
  return done(table, 'readwrite', (store) => store.clear());
}

export async function keysOf(table: Table): Promise<string[]> {
  return (await done(table, 'readonly', (store) => store.getAllKeys())).map(String);
}

export function isOutOfRoom(error: unknown): boolean {
  const cause = error instanceof Error ? (error.cause ?? error) : error;
  return cause instanceof DOMException && cause.name === 'QuotaExceededError';
}

function refused(cause: DOMException | null): Error {
  const reason = isOutOfRoom(cause) ? 'there is no room left' : (cause?.message ?? 'unknown reason');
  return new Error(`The browser could not keep this (${reason}). Save the review now, so that nothing is lost.`, {
    cause,
  });
}
