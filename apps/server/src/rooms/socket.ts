import type { Buffer } from 'node:buffer';
import { close } from '@stemline/protocol/close';
import { WebSocket } from 'ws';

/** Who hears what happens on a socket. */
export interface SocketOwner {
  heard(data: ArrayBuffer, isBinary: boolean): void;
  /** A ping or a pong came. */
  controlled(): void;
  /** Before the close frame goes out, after which nothing may be said. */
  closes(): void;
  ended(): void;
}

/** Of a piece of one byte, measured. */
const bytesBesidePiece = 1_024;

/** What reads frames inside ws, as far as it is directed here; flood.test.ts fails with a ws that has it no more. */
interface Reader {
  /** Whether it goes on to the next frame of what it was given. */
  _loop: boolean;
  /** What was read and not told: as it came off the line, and in the pieces of a message before the last. */
  readonly _buffers: readonly Buffer[];
  readonly _bufferedBytes: number;
  readonly _messageLength: number;
  startLoop(done: (error?: Error) => void): void;
  readonly writableEnded: boolean;
  readonly destroyed: boolean;
  destroy(error: Error): void;
}

/**
 * A socket that ends with our own codes where ws would use the standard's: a plain y-websocket client
 * takes 1009 (too large), 1002 (not the protocol) or 1008 (in too many pieces) for a passing fault and offers the same frame for ever.
 */
export class RoomSocket extends WebSocket {
  declare private readonly _receiver: Reader;
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
      case 'ping':
        owner.controlled();
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

  /** Bytes that were read and not told yet; a piece takes memory beside what it holds. */
  get heldBytes(): number {
    const { _buffers, _bufferedBytes, _messageLength } = this._receiver;
    return _messageLength + _bufferedBytes + _buffers.length * bytesBesidePiece;
  }

  /** Whether a message has begun and not ended. */
  get isWithinMessage(): boolean {
    const { _bufferedBytes, _messageLength } = this._receiver;
    return _bufferedBytes + _messageLength > 0;
  }

  /**
   * Pauses after the frame that is being told: by `pause` alone ws would go on to the end of a chunk, which may
   * hold thousands. They stay the bytes that they are.
   */
  stop(): void {
    this.pause();
    this._receiver._loop = false;
  }

  /** Tells of what was read before the stop and not told; never from within what is being told. */
  readBuffered(): void {
    const reader = this._receiver;
    if (reader.writableEnded || reader.destroyed) return;
    reader.startLoop((error) => {
      if (error) reader.destroy(error);
    });
  }

  override close(code?: number, data?: string | Buffer): void {
    if (this.readyState === this.OPEN) this.owner?.closes();
    if (code === 1009) super.close(close.tooLarge, 'the frame is too large');
    else if (code === 1002 || code === 1007 || code === 1008)
      super.close(close.malformed, 'not a WebSocket frame');
    else super.close(code, data);
  }
}
