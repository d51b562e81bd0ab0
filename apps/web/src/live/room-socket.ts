import { frame } from '@stemline/protocol/message';
import { messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';

/**
 * A socket that counts the changes it sends, as the room counts those it receives: *saved* names
 * how many of them are durable.
 */
export class RoomSocket extends WebSocket {
  changes = 0;
  /** Called when the room's question for what it lacks is answered, with the number of that change. */
  onAnswer: ((change: number) => void) | null = null;

  override send(data: Parameters<WebSocket['send']>[0]): void {
    super.send(data);
    if (!(data instanceof Uint8Array) || data[0] !== frame.sync) return;
    if (data[1] !== messageYjsSyncStep2 && data[1] !== messageYjsUpdate) return;
    this.changes += 1;
    if (data[1] === messageYjsSyncStep2) this.onAnswer?.(this.changes);
  }
}
