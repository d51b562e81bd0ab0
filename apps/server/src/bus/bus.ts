/** What a bus does with what comes over it. */
export interface BusListener {
  heard(channel: string, payload: Uint8Array): void;
}

/** Carries messages between servers, as well as it can: any of them may be lost, come late or twice. */
export interface Bus {
  /** Sent if it can be sent now, else dropped. */
  publish(channel: string, payload: Uint8Array): void;
  /** From now on and over every reconnection; resolves at the first time that it holds, or never. */
  subscribe(channel: string): Promise<void>;
  unsubscribe(channel: string): void;
  /** Makes a line that seems alive and carries nothing anew. */
  reconnect(): void;
  close(): Promise<void>;
}

export type OpenBus = (listener: BusListener) => Bus;
