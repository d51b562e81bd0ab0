import { Outlet } from '@tanstack/react-router';
import { Frame } from '../frame/frame.tsx';
import { useStaff } from '../frame/use-staff.ts';

/** The frame that the screens of one staff share. */
export function StaffRoom() {
  const { me, staffId } = useStaff();
  return (
    <Frame me={me} staffId={staffId}>
      <Outlet />
    </Frame>
  );
}
