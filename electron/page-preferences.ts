/** What every page of the workbench is held to, shown or only printed: the sandbox, and nothing of Node. */
export const pagePreferences = {
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  webviewTag: false,
  // The dictionaries of the spelling check would be fetched from elsewhere.
  spellcheck: false,
} as const;
