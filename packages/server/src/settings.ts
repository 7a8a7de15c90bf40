/** What a person may switch in the editor's settings, below `couplet`. */
import type { LangiumSharedServices } from 'langium/lsp';

/** Settings by name, with what counts where nothing is set. */
const SWITCHES = { inlayFigures: true, zoneReadings: true };

type Switch = keyof typeof SWITCHES;

export class Settings {
  private readonly set = new Map<Switch, boolean>();

  constructor({ workspace }: LangiumSharedServices) {
    const provider = workspace.ConfigurationProvider;
    provider.onConfigurationSectionUpdate(({ configuration, section }) => {
      if (section === 'couplet') this.take(configuration as Record<string, unknown> | null | undefined);
    });
    void this.readAll((name) => provider.getConfiguration('couplet', name));
  }

  get inlayFigures(): boolean {
    return this.valueOf('inlayFigures');
  }

  get zoneReadings(): boolean {
    return this.valueOf('zoneReadings');
  }

  private valueOf(name: Switch): boolean {
    return this.set.get(name) ?? SWITCHES[name];
  }

  private take(configuration: Record<string, unknown> | null | undefined): void {
    for (const name of Object.keys(SWITCHES) as Switch[]) {
      const value = configuration?.[name];
      if (typeof value === 'boolean') this.set.set(name, value);
    }
  }

  /** The first values come once the editor has been asked for them. */
  private async readAll(read: (name: Switch) => Promise<unknown>): Promise<void> {
    for (const name of Object.keys(SWITCHES) as Switch[]) this.take({ [name]: await read(name) });
  }
}
