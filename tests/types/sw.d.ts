// What the build puts above the service worker.
declare const VERSION: string;
declare const ASSETS: Record<string, string>;
