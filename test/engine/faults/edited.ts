/**
 * A design with a fault built into it, the way an author would write it: parts rewired or given other values. Nothing
 * of the engine's own way of trying faults is used. `undefined` where the fault is not one of those that can be.
 */
import type {
  Component,
  ComponentId,
  ComponentOf,
  Datum,
  Design,
  Fault,
  FaultVariant,
  TerminalId,
} from '@couplet/engine';

export function edited(design: Design, fault: Fault, variant: FaultVariant): Design | undefined {
  const editor = new Editor(design);
  return EDITS[fault.word]?.(editor, fault, variant) === false ? undefined : editor.made();
}

type Edit = (editor: Editor, fault: Fault, variant: FaultVariant) => false | undefined;

const EDITS: Partial<Record<Fault['word'], Edit>> = {
  cut: (editor, fault) => {
    const part = editor.part(fault.component);
    if (part.origin === fault.origin) return editor.lift(part.id, 'a');
    const join = editor.design.joins.find(({ origin }) => origin === fault.origin)!;
    editor.joins = editor.joins.filter((other) => other !== join);
    return undefined;
  },
  shorted: (editor, _fault, variant) => editor.joinAs(variant),
  earthed: (editor, _fault, variant) => editor.joinAs(variant),
  missing: (editor, fault) => editor.lift(fault.component, 'a'),
  linked: (editor, fault) => {
    const part = editor.part(fault.component) as ComponentOf<'resistor'>;
    editor.lift(fault.component, 'a');
    return editor.join(part.a, part.b);
  },
  welded: (editor, fault) => {
    const part = editor.part(fault.component) as ComponentOf<'contact'>;
    for (const other of editor.design.components) {
      if (other.kind === 'contact' && other.driver === part.driver && other.pole === part.pole) {
        editor.lift(other.id, 'b');
      }
    }
    return editor.join(part.a, part.b);
  },
  'never-closes': (editor, fault) => editor.lift(fault.component, 'b'),
  'coil-open': (editor, fault) => {
    const { coil } = editor.part(fault.component) as ComponentOf<'relay'>;
    return editor.set(fault.component, { coil: { a: editor.fresh(), b: coil.b } });
  },
  'coil-shorted': (editor, fault) => {
    const { coil } = editor.part(fault.component) as ComponentOf<'relay'>;
    editor.set(fault.component, { coil: { a: editor.fresh(), b: coil.b } });
    return editor.join(coil.a, coil.b);
  },
  'stuck-on': (editor, fault) => editor.hold(fault.component, 'on'),
  'stuck-off': (editor, fault) => editor.hold(fault.component, 'off'),
  lost: (editor, fault) => {
    if (editor.part(fault.component).kind !== 'source') return false;
    // What an output takes from a rail hangs on its plus, so that it is the minus that is taken away.
    return editor.lift(fault.component, 'b');
  },
  blown: (editor, fault) => editor.lift(fault.component, 'a'),
  reversed: (editor, fault) => {
    const part = editor.part(fault.component);
    if (part.kind === 'relay') return editor.set(part.id, { coil: { a: part.coil.b, b: part.coil.a } });
    return part.kind === 'diode' ? editor.set(part.id, { a: part.b, b: part.a }) : false;
  },
  swapped: (editor, fault) => {
    const [first, second] = [editor.part(fault.component), editor.part(fault.other!)];
    if (first.kind === 'core' && second.kind === 'core') {
      editor.set(first.id, { b: second.b });
      return editor.set(second.id, { b: first.b });
    }
    const [one, other] = [fault.component, fault.other!].map((id) => editor.part(id) as ComponentOf<'resistor'>);
    editor.set(one!.id, { ohms: other!.ohms });
    return editor.set(other!.id, { ohms: one!.ohms });
  },
  'a-decade-low': (editor, fault) => editor.scale(fault.component, 0.1),
  'a-decade-high': (editor, fault) => editor.scale(fault.component, 10),
};

class Editor {
  readonly design: Design;
  joins: Design['joins'];
  private readonly components: Component[];
  private readonly terminals: Design['terminals'][number][];
  private cases: Design['cases'];

  constructor(design: Design) {
    this.design = design;
    this.joins = design.joins;
    this.components = [...design.components];
    this.terminals = [...design.terminals];
    this.cases = design.cases;
  }

  made(): Design {
    const { components, terminals, joins, cases } = this;
    return { ...this.design, components, terminals, joins, cases };
  }

  part(id: ComponentId): Component {
    return this.components[id]!;
  }

  set(id: ComponentId, facts: object): undefined {
    this.components[id] = { ...this.components[id]!, ...facts } as Component;
  }

  /** A terminal that nothing is joined to. */
  fresh(): TerminalId {
    const id = this.terminals.length;
    this.terminals.push({ ...this.terminals[0]!, id, name: `loose ${id}` });
    return id;
  }

  lift(id: ComponentId, end: 'a' | 'b'): undefined {
    this.set(id, { [end]: this.fresh() });
  }

  join(a: TerminalId, b: TerminalId): undefined {
    this.joins = [...this.joins, { a, b, origin: -1 }];
  }

  joinAs({ changes }: FaultVariant): undefined {
    for (const change of changes) if (change.sort === 'join') this.join(change.a, change.b);
  }

  scale(id: ComponentId, factor: number): undefined {
    const { ohms } = this.part(id) as ComponentOf<'resistor'>;
    const { least, usual, most, origin } = ohms!;
    const scaled: Datum = { least: least * factor, usual: usual * factor, most: most * factor, origin };
    this.set(id, { ohms: scaled });
  }

  /** An output that is told one thing whatever the cases say. */
  hold(id: ComponentId, word: 'on' | 'off'): undefined {
    this.set(id, { rest: { word, origin: -1 }, unpowered: { word, origin: -1 } });
    this.cases = this.cases.map((one) => ({
      ...one,
      steps: one.steps.map((step) => (step.sort === 'turn' && step.target === id ? { ...step, state: word } : step)),
    }));
  }
}
