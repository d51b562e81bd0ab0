import type { RoomSocket, SocketOwner } from './socket.ts';

/** What a client may have sent before it learns that it is not let in. */
const maxFrames = 64;

/** Who was refused at the door, until he has heard why: of a flood of his nothing more is read. */
export class TurnedAway implements SocketOwner {
  readonly #socket: RoomSocket;
  #frames = 0;

  constructor(socket: RoomSocket) {
    this.#socket = socket;
  }

  heard(): void {
    this.#frames += 1;
    // It ends all the same, by the patience with a close that is not answered.
    if (this.#frames >= maxFrames) this.#socket.stop();
  }

  controlled(): void {
    this.heard();
  }

  closes(): void {
    // Nothing was about to be said.
  }

  ended(): void {
    // It was in no room.
  }
}
