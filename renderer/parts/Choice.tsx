import {
  Button,
  Header,
  Label,
  ListBox,
  ListBoxItem,
  ListBoxSection,
  Popover,
  Radio,
  RadioGroup,
  Select,
  SelectValue,
  Text,
} from 'react-aria-components';
import styles from './Choice.module.css';
import fieldStyles from './Field.module.css';
import { Icon } from './Icon.tsx';

export interface Option<Id extends string> {
  readonly id: Id;
  readonly label: string;
  readonly description?: string | null;
  /** Options of one group, where they stand together, are headed by its name. */
  readonly group?: string;
}

interface ChoiceProps<Id extends string> {
  readonly label: string;
  readonly hideLabel?: boolean;
  readonly options: readonly Option<Id>[];
  readonly chosen: Id | null;
  readonly onChoose: (id: Id) => void;
  readonly isDisabled?: boolean;
}

/** One of many: a button that opens the list. */
export function Choice<Id extends string>({
  label,
  hideLabel = false,
  options,
  chosen,
  onChoose,
  isDisabled = false,
  placeholder = 'Choose',
}: ChoiceProps<Id> & { readonly placeholder?: string }) {
  const groups = [...new Set(options.map((option) => option.group ?? ''))];
  return (
    <Select
      className={fieldStyles.field ?? ''}
      selectedKey={chosen}
      onSelectionChange={(key) => key !== null && onChoose(key as Id)}
      isDisabled={isDisabled}
      placeholder={placeholder}
      {...(hideLabel ? { 'aria-label': label } : {})}
    >
      {!hideLabel && <Label className={fieldStyles.label ?? ''}>{label}</Label>}
      <Button className={styles.opener ?? ''}>
        <SelectValue className={styles.value ?? ''}>
          {({ selectedText, defaultChildren }) => selectedText || defaultChildren}
        </SelectValue>
        <Icon name="chevron-down" />
      </Button>
      <Popover className={styles.popover ?? ''}>
        <ListBox className={styles.list ?? ''}>
          {groups.map((group) =>
            group === '' ? (
              options.filter((option) => option.group === undefined).map(item)
            ) : (
              <ListBoxSection key={group}>
                <Header className={styles.header ?? ''}>{group}</Header>
                {options.filter((option) => option.group === group).map(item)}
              </ListBoxSection>
            ),
          )}
        </ListBox>
      </Popover>
    </Select>
  );
}

function item<Id extends string>({ id, label, description }: Option<Id>) {
  return (
    <ListBoxItem key={id} id={id} textValue={label} className={styles.item ?? ''}>
      <Text slot="label">{label}</Text>
      {description != null && (
        <Text slot="description" className={styles.description ?? ''}>
          {description}
        </Text>
      )}
    </ListBoxItem>
  );
}

/** One of two or three, all in sight. */
export function Toggle<Id extends string>({
  label,
  hideLabel = false,
  options,
  chosen,
  onChoose,
  isDisabled = false,
}: ChoiceProps<Id>) {
  return (
    <RadioGroup
      className={fieldStyles.field ?? ''}
      value={chosen}
      onChange={(value) => onChoose(value as Id)}
      isDisabled={isDisabled}
      orientation="horizontal"
      {...(hideLabel ? { 'aria-label': label } : {})}
    >
      {!hideLabel && <Label className={fieldStyles.label ?? ''}>{label}</Label>}
      <div className={styles.row}>
        {options.map(({ id, label: words }) => (
          <Radio key={id} value={id} className={styles.radio ?? ''}>
            {words}
          </Radio>
        ))}
      </div>
    </RadioGroup>
  );
}
