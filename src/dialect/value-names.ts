import type { Value } from '../model/value.ts';
import type { Context } from './contract.ts';
import { describeValue } from '../model/describe-value.ts';
import { valueWords } from './codecs/value-words.ts';
import { keyfileSsid } from './template/keyfile.ts';
import { networkUuid } from './template/name-uuid.ts';
import { supplicantSsid } from './template/supplicant-ssid.ts';
import type { SecretValue, TemplateItem, TemplateValue } from './template/template.ts';

/** What a setting's value is in a template file: booleans and lists to choose and repeat by, words to insert. */
export function valueInTemplate(value: Value, context: Context): TemplateValue {
  switch (value.kind) {
    case 'boolean':
      return value.is;
    case 'text':
      return value.text;
    case 'secret':
      return secretIn(value.name, context);
    case 'words':
      return value.words.map((word): TemplateItem => new Map([['this', word]]));
    case 'texts':
      return value.texts.map((text): TemplateItem => new Map([['this', text]]));
    case 'networks':
      return networkItems(value, 'this', context);
    case 'none':
      return '';
    case 'word':
    case 'number':
    case 'quantity':
    case 'control':
    case 'press':
    case 'place':
      return describeValue(value);
    case 'core':
      return valueWords(value, context).at(-1) ?? value.core;
  }
}

export function secretIn(name: string, { secretValue }: Context): SecretValue {
  return { secret: name, text: secretValue?.(name) };
}

/** The names of each network: `this.ssid` in a loop, `item.ssid` in a file made for each. An open one has no password. */
export function networkItems(
  value: Extract<Value, { kind: 'networks' }>,
  before: 'this' | 'item',
  context: Context,
): readonly TemplateItem[] {
  return value.networks.map((network): TemplateItem => {
    const names = new Map<string, string | boolean | SecretValue>([
      [`${before}.name`, network.name],
      [`${before}.ssid`, network.name],
      [`${before}.ssid-keyfile`, keyfileSsid(network.name)],
      [`${before}.ssid-supplicant`, supplicantSsid(network.name)],
      [`${before}.uuid`, networkUuid(context.device.id, network.name)],
      [`${before}.hidden`, network.hidden],
    ]);
    if (network.password !== undefined) names.set(`${before}.password`, secretIn(network.password, context));
    return names;
  });
}
