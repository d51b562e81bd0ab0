import { secureHeaders } from 'hono/secure-headers';

/**
 * Nothing from elsewhere: no script, frame or form of another site. Styles may stand in the page,
 * because the component library writes them there; scripts may not.
 */
export const securityHeaders = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'self'"],
    styleSrc: ["'self'", "'unsafe-inline'"],
    imgSrc: ["'self'", 'data:', 'blob:'],
    connectSrc: ["'self'"],
    workerSrc: ["'self'", 'blob:'],
    objectSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
  },
  xFrameOptions: 'DENY',
  referrerPolicy: 'no-referrer',
  // A browser minds it over https only.
  strictTransportSecurity: 'max-age=15552000',
  permissionsPolicy: { camera: [], microphone: [], geolocation: [] },
});
