import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** Where `npm run dev` of the web app finds a running server. */
const server = process.env.STEMLINE_SERVER ?? 'http://127.0.0.1:4600';

export default defineConfig({
  plugins: [react()],
  // Two copies of Yjs in one page can't read each other's documents.
  resolve: { dedupe: ['yjs', 'y-protocols', 'lib0', 'react', 'react-dom'] },
  build: { outDir: 'dist', emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 900 },
  server: {
    proxy: {
      '/api': { target: server, changeOrigin: false },
      '/rooms': { target: server, ws: true, changeOrigin: false },
    },
  },
});
