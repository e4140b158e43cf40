// What a window holds: its heap and its worker's, and how many there are of what a page can forget to let go of.

/** Runs in the page before its own scripts: keeps count of what the browser itself does not tell. */
export function keepCount() {
  const urls = new Set();
  const timers = new Set();
  const workers = new Set();
  const observers = new Set();
  const { createObjectURL, revokeObjectURL } = URL;
  URL.createObjectURL = (content) => {
    const url = createObjectURL.call(URL, content);
    urls.add(url);
    return url;
  };
  URL.revokeObjectURL = (url) => {
    urls.delete(url);
    revokeObjectURL.call(URL, url);
  };
  const { setTimeout, clearTimeout, setInterval, clearInterval } = window;
  window.setTimeout = (callback, ms, ...given) => {
    const id = setTimeout(
      (...same) => {
        timers.delete(id);
        callback(...same);
      },
      ms,
      ...given,
    );
    timers.add(id);
    return id;
  };
  window.setInterval = (...given) => {
    const id = setInterval(...given);
    timers.add(id);
    return id;
  };
  window.clearTimeout = window.clearInterval = (id) => {
    timers.delete(id);
    clearTimeout(id);
    clearInterval(id);
  };
  window.Worker = class extends Worker {
    constructor(...given) {
      super(...given);
      workers.add(this);
    }
    terminate() {
      workers.delete(this);
      super.terminate();
    }
  };
  for (const name of ['ResizeObserver', 'MutationObserver', 'IntersectionObserver']) {
    window[name] = class extends window[name] {
      #targets = new Set();
      observe(target, ...given) {
        this.#targets.add(target);
        observers.add(this);
        super.observe(target, ...given);
      }
      unobserve(target) {
        this.#targets.delete(target);
        if (this.#targets.size === 0) observers.delete(this);
        super.unobserve(target);
      }
      disconnect() {
        this.#targets.clear();
        observers.delete(this);
        super.disconnect();
      }
    };
  }
  Object.assign(window, {
    alive: () => ({ urls: urls.size, timers: timers.size, workers: workers.size, observers: observers.size }),
  });
}

/** Asks a window over the browser's own protocol, the worker through the page it belongs to. */
export async function counterOf(page) {
  const session = await page.context().newCDPSession(page);
  const workers = new Map();
  const answers = new Map();
  let latest = 0;
  session.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => workers.set(sessionId, targetInfo));
  session.on('Target.detachedFromTarget', ({ sessionId }) => workers.delete(sessionId));
  session.on('Target.receivedMessageFromTarget', ({ message }) => {
    const { id, result } = JSON.parse(message);
    answers.get(id)?.(result);
    answers.delete(id);
  });
  await session.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false });
  const inWorker = (sessionId, method) =>
    new Promise((resolve) => {
      const id = ++latest;
      answers.set(id, resolve);
      void session.send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method }) });
    });

  return async () => {
    // Twice: what the first lets go of may have held something else.
    for (let i = 0; i < 2; i++) {
      await session.send('HeapProfiler.collectGarbage');
      for (const id of workers.keys()) await inWorker(id, 'HeapProfiler.collectGarbage');
    }
    const heap = await session.send('Runtime.getHeapUsage');
    const { nodes, documents, jsEventListeners } = await session.send('Memory.getDOMCounters');
    let worker = { usedSize: 0, backingStorageSize: 0 };
    for (const id of workers.keys()) worker = await inWorker(id, 'Runtime.getHeapUsage');
    const alive = await page.evaluate(() => window.alive());
    return {
      heapMb: megabytes(heap.usedSize),
      arraysMb: megabytes(heap.backingStorageSize ?? 0),
      workerMb: megabytes(worker.usedSize),
      workerArraysMb: megabytes(worker.backingStorageSize ?? 0),
      nodes,
      documents,
      listeners: jsEventListeners,
      ...alive,
      workers: workers.size,
      kept: await page.evaluate(keptByTheBrowser),
    };
  };
}

/** Drafts and files that stand in the browser's own database. */
async function keptByTheBrowser() {
  const opened = await new Promise((resolve, reject) => {
    const request = indexedDB.open('a-scan-workbench');
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  let count = 0;
  for (const table of opened.objectStoreNames) {
    count += await new Promise((resolve, reject) => {
      const request = opened.transaction(table).objectStore(table).count();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  }
  opened.close();
  return count;
}

function megabytes(bytes) {
  return Math.round(bytes / 1e4) / 100;
}
