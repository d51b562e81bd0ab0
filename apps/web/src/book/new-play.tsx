import {
  Button,
  Group,
  Modal,
  NativeSelect,
  SegmentedControl,
  Stack,
  TextInput,
} from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import type { RuleCode } from '@stemline/football/rulecode';
import { newBoardSchema } from '@stemline/protocol/api/boards';
import { useNavigate } from '@tanstack/react-router';
import type { z } from 'zod';
import { useCreateBoard } from '../api/boards.ts';
import { Choice } from '../common/choice.tsx';
import { DialogFoot } from '../common/dialog-foot.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { FormationPicker } from './formation-picker.tsx';
import { plainSituation } from './formation-play.ts';
import { lastRuleCode, rememberRuleCode, ruleCodeWords } from './rule-codes.ts';

interface Props {
  staffId: string;
  opened: boolean;
  onClose: () => void;
}

export function NewPlay({ staffId, opened, onClose }: Props) {
  return (
    <Modal opened={opened} onClose={onClose} title="New play" size="62rem">
      <NewPlayForm staffId={staffId} onClose={onClose} />
    </Modal>
  );
}

function NewPlayForm({ staffId, onClose }: Omit<Props, 'opened'>) {
  const navigate = useNavigate();
  const create = useCreateBoard(staffId);
  const fields = useForm<z.output<typeof newBoardSchema>>({
    initialValues: {
      name: '',
      concept: '',
      formation: 'doubles',
      strength: 'right',
      spot: 'middle',
      code: lastRuleCode(),
    },
    validate: schemaResolver(newBoardSchema, { sync: true }),
  });
  const { code, spot, strength, formation } = fields.values;
  return (
    <form
      noValidate
      onSubmit={fields.onSubmit((board) => {
        rememberRuleCode(board.code);
        create.mutate(board, {
          onSuccess: ({ id }) => void navigate({ to: '/boards/$boardId', params: { boardId: id } }),
        });
      })}
    >
      <Stack gap="md">
        <Group align="flex-start" gap="sm" grow preventGrowOverflow={false}>
          <TextInput label="Name" required data-autofocus {...fields.getInputProps('name')} />
          <TextInput
            label="Concept (optional)"
            placeholder="What your staff calls the idea"
            {...fields.getInputProps('concept')}
          />
        </Group>
        <Group align="flex-end" gap="lg">
          <Choice label="Strength">
            <SegmentedControl
              data={[
                { value: 'left', label: 'Left' },
                { value: 'right', label: 'Right' },
              ]}
              {...fields.getInputProps('strength')}
            />
          </Choice>
          <Choice label="Ball on">
            <SegmentedControl
              data={[
                { value: 'left', label: 'Left hash' },
                { value: 'middle', label: 'Middle' },
                { value: 'right', label: 'Right hash' },
              ]}
              {...fields.getInputProps('spot')}
            />
          </Choice>
          <NativeSelect
            label="Rules"
            data={Object.entries(ruleCodeWords).map(([value, label]) => ({ value, label }))}
            value={code}
            onChange={(event) =>
              fields.setFieldValue('code', event.currentTarget.value as RuleCode)
            }
          />
        </Group>
        <FormationPicker
          value={formation}
          onChange={(chosen) => fields.setFieldValue('formation', chosen)}
          situation={plainSituation(code, spot)}
          strength={strength}
          error={fields.errors.formation}
        />
        <ProblemNotice error={create.error} />
        <DialogFoot>
          <Button variant="default" onClick={onClose}>
            Cancel
          </Button>
          <Button type="submit" loading={create.isPending}>
            Create play
          </Button>
        </DialogFoot>
      </Stack>
    </form>
  );
}
