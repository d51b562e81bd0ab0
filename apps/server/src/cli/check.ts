/**
 * `npm run check -- PLAY.json …`: the rule check over plays in files.
 *
 * One file: its findings as a JSON array on standard output. Several: an array of {file, findings}.
 * `--schema`: the JSON Schema of a file instead. Bad input goes to standard error as problem details
 * with the place in the file, one line per file. Exit code 0: nothing stops the play; 1: something does; 2: bad input.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { drawnLookSchema } from '@stemline/football/looks/drawn';
import { recipeFromDrawing } from '@stemline/football/looks/from-drawing';
import { type LookProblem, lookProblems, recipeProblems } from '@stemline/football/looks/problems';
import { builtInLooks, type LookRecipe, lookRecipeSchema } from '@stemline/football/shelf';
import type { Problem } from '@stemline/protocol/problem';
import { conditionSchema } from '@stemline/read-rules/card';
import { factNames, facts } from '@stemline/read-rules/facts';
import type { Finding } from '@stemline/read-rules/finding';
import { reproved } from '@stemline/read-rules/mends/reprove';
import { createRecheck } from '@stemline/read-rules/recheck/recheck';
import { ruledPlaySchema } from '@stemline/read-rules/ruled-play';
import { malformed } from '@stemline/read-rules/well-formed';
import { z } from 'zod';
import { looseEnds } from './loose-ends.ts';

const inputSchema = z
  .strictObject({
    play: ruledPlaySchema,
    /** The shelf to check against; the built-in looks when it is left out. */
    looks: z.array(lookRecipeSchema).max(200).optional(),
    /** Looks as they stand before this play, each told as a rule; they come after `looks`. */
    drawnLooks: z.array(drawnLookSchema).max(200).optional(),
  })
  .meta({ title: 'Play for the rule check' });

/** The schema of a file, with what may be asked of each fact, which only the fact table knows. */
const inputJsonSchema = () =>
  z.toJSONSchema(inputSchema, {
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      if (zodSchema !== conditionSchema) return;
      jsonSchema.description = factNames
        .map((name) => {
          const { domain, unit, help } = facts[name];
          const asked =
            domain.kind === 'continuous'
              ? `range from ${domain.min} to ${domain.max} ${unit}`
              : domain.kind === 'boolean'
                ? 'is true or false'
                : `oneOf ${domain.values.join(', ')}`;
          return `${name}: ${asked}. ${help}`;
        })
        .join('\n');
    },
  });

type Input = z.infer<typeof inputSchema>;
type Read =
  | { readonly ok: true; readonly input: Input }
  | { readonly ok: false; readonly problem: Problem };

/** Some editors put it before the first character; JSON readers may leave it out (RFC 8259, section 8.1). */
const byteOrderMark = /^\uFEFF/;

function read(file: string): Read {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    return bad(
      '/problems/no-file',
      'The file cannot be read',
      `${file}: ${messageOf(error)}`,
      'Check the name of the file.',
    );
  }
  let json: unknown;
  try {
    json = JSON.parse(text.replace(byteOrderMark, ''));
  } catch (error) {
    return bad(
      '/problems/not-json',
      'The file is not JSON',
      `${file}: ${messageOf(error)}`,
      'Put the file right where the message points.',
    );
  }
  const parsed = inputSchema.safeParse(json);
  if (!parsed.success) {
    return badPlay(
      file,
      parsed.error.issues.map(({ path, message }) => ({ path: place(path), message })),
    );
  }
  const { play } = parsed.data;
  const faults = [...malformed(play), ...looseEnds(play)];
  if (faults.length > 0) {
    return badPlay(
      file,
      faults.map(({ path, says, mend }) => ({
        path: place(['play', ...path]),
        message: `${says} ${mend}`,
      })),
    );
  }
  const wrong = wrongLooks(parsed.data);
  return wrong.length > 0 ? badPlay(file, wrong) : { ok: true, input: parsed.data };
}

/** What is wrong with the looks of a file, each with its place. */
function wrongLooks({ looks = [], drawnLooks = [] }: Input): NonNullable<Problem['where']> {
  const at = (root: 'looks' | 'drawnLooks', i: number) => (problem: LookProblem) => ({
    path: place([root, i, ...problem.path]),
    message: `${problem.says} ${problem.mend}`,
  });
  return [
    ...looks.flatMap((look, i) => recipeProblems(look).map(at('looks', i))),
    ...drawnLooks.flatMap((look, i) => lookProblems(look).map(at('drawnLooks', i))),
  ];
}

/** The looks to check against: those of the file, the built-in ones where it has none. */
function shelfOf({ play, looks, drawnLooks }: Input): readonly LookRecipe[] {
  if (!drawnLooks) return looks ?? builtInLooks;
  return [
    ...(looks ?? []),
    ...drawnLooks.map((look) => recipeFromDrawing(play, look.defenders, look)),
  ];
}

const badPlay = (file: string, where: NonNullable<Problem['where']>): Read =>
  bad(
    '/problems/bad-play',
    'The file is not a play that can be checked',
    `${file}: ${where.length === 1 ? 'one place is' : `${where.length} places are`} wrong.`,
    'Put each place right; --schema prints what a file may hold.',
    where,
  );

const bad = (
  type: string,
  title: string,
  detail: string,
  mend: string,
  where?: NonNullable<Problem['where']>,
): Read => ({
  ok: false,
  problem: { type, title, status: 422, detail, mend, ...(where ? { where } : {}) },
});

/** `$.play.players[3].at` */
const place = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, step) => (typeof step === 'number' ? `${text}[${step}]` : `${text}.${String(step)}`),
    '$',
  );

const messageOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);

const print = (value: unknown): void => {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
};
const complain = (problem: Problem): void => {
  process.stderr.write(`${JSON.stringify(problem)}\n`);
};

function usage(detail: string): number {
  complain({
    type: '/problems/usage',
    title: 'The command was not understood',
    status: 400,
    detail,
    mend: 'npm run check -- PLAY.json [PLAY.json …], or npm run check -- --schema',
  });
  return 2;
}

function main(args: readonly string[]): number {
  let options: {
    readonly values: { readonly schema?: boolean };
    readonly positionals: readonly string[];
  };
  try {
    options = parseArgs({
      args: [...args],
      options: { schema: { type: 'boolean' } },
      allowPositionals: true,
    });
  } catch (error) {
    return usage(messageOf(error));
  }
  if (options.values.schema) {
    print(inputJsonSchema());
    return 0;
  }
  const files = options.positionals;
  if (files.length === 0) return usage('No file was named.');
  const checked: { readonly file: string; readonly findings: readonly Finding[] }[] = [];
  let failed = false;
  for (const file of files) {
    const result = read(file);
    if (result.ok) {
      const { play } = result.input;
      const recheck = createRecheck(shelfOf(result.input));
      checked.push({ file, findings: reproved(play, recheck.check(play), recheck) });
    } else {
      complain(result.problem);
      failed = true;
    }
  }
  if (files.length > 1) print(checked);
  else if (checked[0]) print(checked[0].findings);
  if (failed) return 2;
  return checked.some(({ findings }) => findings.some(({ severity }) => severity === 'stop'))
    ? 1
    : 0;
}

// A reader that has seen enough, such as `head`, is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});
process.exitCode = main(process.argv.slice(2));
