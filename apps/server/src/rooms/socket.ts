import type { Buffer } from 'node:buffer';
import { close } from '@stemline/protocol/close';
import { WebSocket } from 'ws';

/** Who hears what happens on a socket. */
export interface SocketOwner {
  heard(data: ArrayBuffer, isBinary: boolean): void;
  ponged(): void;
  /** Before the close frame goes out, after which nothing may be said. */
  closes(): void;
  ended(): void;
}

/**
 * A socket that ends with our own codes where ws would use the standard's: a plain y-websocket client
 * takes 1009 (too large), 1002 (not the protocol) or 1008 (in too many pieces) for a passing fault and offers the same frame for ever.
 */
export class RoomSocket extends WebSocket {
  owner: SocketOwner | null = null;

  /** From here on `owner` hears everything. */
  belongTo(owner: SocketOwner): void {
    this.owner = owner;
    this.binaryType = 'arraybuffer';
  }

  /** Straight to the owner: listeners would be a table of the same four for each of thousands of sockets. */
  override emit(event: string | symbol, ...told: unknown[]): boolean {
    const { owner } = this;
    if (!owner) return super.emit(event, ...told);
    switch (event) {
      case 'message':
        owner.heard(told[0] as ArrayBuffer, told[1] as boolean);
        return true;
      case 'pong':
        owner.ponged();
        return true;
      case 'error':
        // ws reports a broken frame here and has begun to close; the close event follows.
        return true;
      case 'close':
        owner.ended();
        return true;
      default:
        return super.emit(event, ...told);
    }
  }

  override close(code?: number, data?: string | Buffer): void {
    if (this.readyState === this.OPEN) this.owner?.closes();
    if (code === 1009) super.close(close.tooLarge, 'the frame is too large');
    else if (code === 1002 || code === 1007 || code === 1008)
      super.close(close.malformed, 'not a WebSocket frame');
    else super.close(code, data);
  }
}
