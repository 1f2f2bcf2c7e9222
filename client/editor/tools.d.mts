/** The types of `tools.mjs`, for the tests that start the editor. */
export declare const ROOT: string;
export declare const EDITOR: string;
export declare function installEditor(): void;
export declare function packageExtension(): string;
export declare function prepareEditor(data: string, vsix: string, more?: Readonly<Record<string, unknown>>): void;
export declare function startEditor(options: { data: string; folder: string; port: number; asksTrust?: boolean }): Promise<{ address: string; stop(): Promise<void> }>;
export declare function freePort(wanted?: number): Promise<number>;
