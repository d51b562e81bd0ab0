import { type RuleCode, ruleCodeSchema } from '@stemline/football/rulecode';

export const ruleCodeWords: Record<RuleCode, string> = {
  highSchool: 'High school',
  college: 'College',
  professional: 'Professional',
};

const remembered = 'stemline.rule-code';

/** A staff plays under one code nearly always, so the last choice is offered again. */
export const lastRuleCode = (): RuleCode =>
  ruleCodeSchema.catch('highSchool').parse(localStorage.getItem(remembered));

export const rememberRuleCode = (code: RuleCode): void => localStorage.setItem(remembered, code);
