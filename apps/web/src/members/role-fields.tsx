import { NativeSelect, Stack } from '@mantine/core';
import {
  type Group,
  groupNames,
  groupSchema,
  type Role,
  roleNames,
  roleSchema,
} from '@stemline/protocol/roles';
import { roleAbout } from './role-words.ts';

export interface RoleAndGroup {
  role: Role;
  group: Group;
}

/** Role, and the group where the role has one: the same two fields invite somebody and change him. */
export function RoleFields({
  value,
  roles,
  onChange,
}: {
  value: RoleAndGroup;
  /** Roles that the reader may give. */
  roles: readonly Role[];
  onChange: (value: RoleAndGroup) => void;
}) {
  return (
    <Stack gap="sm">
      <NativeSelect
        label="Role"
        description={roleAbout[value.role]}
        inputWrapperOrder={['label', 'input', 'description']}
        value={value.role}
        data={roles.map((role) => ({ value: role, label: roleNames[role] }))}
        onChange={(event) => {
          const role = roleSchema.parse(event.currentTarget.value);
          onChange({ role, group: role === 'positionCoach' ? value.group : 'all' });
        }}
      />
      {value.role === 'positionCoach' && (
        <NativeSelect
          label="Group"
          description="Whose players, routes and read cards he edits."
          inputWrapperOrder={['label', 'input', 'description']}
          value={value.group}
          data={groupSchema.options.map((group) => ({ value: group, label: groupNames[group] }))}
          onChange={(event) =>
            onChange({ ...value, group: groupSchema.parse(event.currentTarget.value) })
          }
        />
      )}
    </Stack>
  );
}
