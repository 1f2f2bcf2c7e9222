/** The types of `tools.mjs`, for the tests that start the editor. */
export declare const ROOT: string;
export declare const EDITOR: string;
/** The first is the one that the environment names, if it does. */
export declare const BROWSERS: readonly (string | undefined)[];
export declare const FIRST_SCREEN: { readonly file: string; readonly settings: Readonly<Record<string, unknown>> };
export declare class CannotGoOn extends Error {}
export declare function installProject(root?: string): void;
export declare function installEditor(): void;
export declare function packageExtension(): string;
export declare function writeSettings(data: string, more?: Readonly<Record<string, unknown>>): void;
export declare function installExtension(data: string, vsix: string): void;
export declare function startEditor(options: {
  data: string;
  folder: string;
  file?: string;
  port: number;
  asksTrust?: boolean;
}): Promise<{ address: string; stop(): Promise<void> }>;
export declare function freePort(wanted?: number): Promise<number>;
