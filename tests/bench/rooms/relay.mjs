// The floor: passes every frame to everybody else in the room, and knows nothing.
import { WebSocketServer } from 'ws';

const rooms = new Map();
const server = new WebSocketServer({ port: Number(process.env.PORT), host: '127.0.0.1' });
server.on('connection', (socket, request) => {
  const name = request.url;
  const room = rooms.get(name) ?? new Set();
  rooms.set(name, room.add(socket));
  socket.on('message', (data) => {
    for (const other of room) if (other !== socket) other.send(data);
  });
  socket.on('close', () => {
    room.delete(socket);
    if (room.size === 0) rooms.delete(name);
  });
});
