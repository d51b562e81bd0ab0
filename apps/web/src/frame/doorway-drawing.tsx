/**
 * A field with one stem and its three answers: in, out, sit. Decorative, one unit is one tenth of
 * a yard. It says what the room is for before anybody has signed in.
 */
export function DoorwayDrawing({ className }: { className: string }) {
  return (
    <svg
      className={className}
      viewBox="-120 -150 240 200"
      preserveAspectRatio="xMidYMid slice"
      aria-hidden="true"
    >
      <rect x="-600" y="-600" width="1200" height="1200" fill="var(--board-field)" />
      {[-200, -150, -100, -50, 50].map((y) => (
        <g key={y}>
          <line
            x1="-600"
            x2="600"
            y1={y}
            y2={y}
            stroke="var(--board-yard-line)"
            strokeWidth="0.8"
          />
        </g>
      ))}
      {Array.from({ length: 60 }, (_, n) => -250 + n * 10).map((y) => (
        <g key={y} stroke="var(--board-hash)" strokeWidth="0.7">
          <line x1="-62" x2="-57" y1={y} y2={y} />
          <line x1="57" x2="62" y1={y} y2={y} />
        </g>
      ))}
      <line x1="-600" x2="600" y1="0" y2="0" stroke="var(--board-scrimmage)" strokeWidth="1.1" />
      <g fill="none" strokeWidth="1.4" strokeLinejoin="round">
        <path d="M20 4V-56" stroke="var(--board-route)" strokeWidth="1.9" />
        <path d="M20-56 70-74" stroke="var(--board-route-quiet)" strokeDasharray="3 3" />
        <path d="M20-56V-84" stroke="var(--board-route-quiet)" strokeDasharray="3 3" />
        <path d="M12-84h16" stroke="var(--board-route-quiet)" />
        <path d="M20-56-34-92" stroke="var(--board-emphasis)" strokeWidth="1.9" />
        <path d="m-28-95-8 2 4 8" stroke="var(--board-emphasis)" strokeWidth="1.9" />
      </g>
      <circle
        cx="20"
        cy="11"
        r="7.4"
        fill="var(--board-offence-fill)"
        stroke="var(--board-offence)"
        strokeWidth="1.6"
      />
      <text
        x="20"
        y="14.2"
        textAnchor="middle"
        fontSize="9"
        fontWeight="700"
        fill="var(--board-offence-text)"
      >
        F
      </text>
      <circle cx="34" cy="-44" r="11" fill="var(--board-key)" opacity="0.55" />
      <text
        x="34"
        y="-39.6"
        textAnchor="middle"
        fontSize="13"
        fontWeight="750"
        fill="var(--board-defence-text)"
      >
        W
      </text>
      <path
        d="M46-45C58-47 62-54 66-60"
        fill="none"
        stroke="var(--board-reaction)"
        strokeWidth="1"
        strokeDasharray="2.4 2.4"
      />
    </svg>
  );
}
