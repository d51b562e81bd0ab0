import { Menu, type MenuItemProps } from '@mantine/core';

/** The button of the open menu in which this line stands. */
const buttonOf = (item: Element): HTMLElement | null => {
  const menu = item.closest('[role=menu]');
  return menu && document.querySelector<HTMLElement>(`[aria-controls="${CSS.escape(menu.id)}"]`);
};

/**
 * A line of a menu that opens a dialog. The line is gone when the dialog is closed, so the focus goes
 * to the menu's button first: there the dialog gives it back.
 */
export function DialogItem({ onChoose, ...item }: MenuItemProps & { onChoose: () => void }) {
  return (
    <Menu.Item
      {...item}
      onClick={({ currentTarget }) => {
        buttonOf(currentTarget)?.focus();
        onChoose();
      }}
    />
  );
}
