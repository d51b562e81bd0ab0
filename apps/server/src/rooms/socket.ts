import type { Buffer } from 'node:buffer';
import { close } from '@stemline/protocol/close';
import { type RawData, WebSocket } from 'ws';

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

  /** From here on `owner` hears everything; the listeners are the same for all sockets, of which there are thousands. */
  belongTo(owner: SocketOwner): void {
    this.owner = owner;
    this.binaryType = 'arraybuffer';
    this.on('message', heard);
    this.on('pong', ponged);
    // ws reports a broken frame here and has begun to close; the close event follows.
    this.on('error', ignored);
    this.on('close', ended);
  }

  override close(code?: number, data?: string | Buffer): void {
    if (this.readyState === this.OPEN) this.owner?.closes();
    if (code === 1009) super.close(close.tooLarge, 'the frame is too large');
    else if (code === 1002 || code === 1007 || code === 1008)
      super.close(close.malformed, 'not a WebSocket frame');
    else super.close(code, data);
  }
}

function heard(this: WebSocket, data: RawData, isBinary: boolean): void {
  (this as RoomSocket).owner?.heard(data as ArrayBuffer, isBinary);
}

function ponged(this: WebSocket): void {
  (this as RoomSocket).owner?.ponged();
}

function ended(this: WebSocket): void {
  (this as RoomSocket).owner?.ended();
}

const ignored = (): void => undefined;
