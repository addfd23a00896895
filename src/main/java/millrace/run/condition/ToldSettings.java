// SPDX-License-Identifier: Apache-2.0
package millrace.run.condition;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.stream.Collectors;
import millrace.bench.Bench;
import millrace.bench.role.Meter;
import millrace.bench.role.RoleName;
import millrace.evidence.IncidentKind;
import millrace.evidence.setting.MeterSettings;
import millrace.fault.InstrumentException;

/**
 * What the meters last said their settings are. Where a further point is stored with it, it is held
 * against what they say once more before they are set anew; of every meter so at the end.
 * Single-threaded.
 */
final class ToldSettings {
  private final Bench bench;
  private final BiConsumer<IncidentKind, String> notes;
  private final Map<RoleName, MeterSettings> told = new EnumMap<>(RoleName.class);
  private final Set<RoleName> relied = EnumSet.noneOf(RoleName.class);

  ToldSettings(Bench bench, BiConsumer<IncidentKind, String> notes) {
    this.bench = bench;
    this.notes = notes;
  }

  void forget() {
    told.clear();
    relied.clear();
  }

  /** A further point is taken with what was said, if anything was. */
  void rely(RoleName role) {
    if (told.containsKey(role)) {
      relied.add(role);
    }
  }

  /** Reads them back, where nothing is known of them. */
  MeterSettings of(RoleName role) {
    MeterSettings settings =
        bench.in(role, Meter.class).map(Meter::readBack).orElse(MeterSettings.NONE);
    told.put(role, settings);
    return settings;
  }

  /**
   * Tells of settings that are no longer what was said; a person is not asked for them. A meter
   * that said them for the one point since is asked again where that is some minutes ago.
   */
  void look(RoleName role) {
    MeterSettings before = told.remove(role);
    boolean anew = relied.remove(role);
    if (before == null || bench.isByHand(role)) {
      return;
    }
    MeterSettings now =
        bench
            .in(role, Meter.class)
            .map(anew ? Meter::readBackAnew : Meter::readBack)
            .orElse(MeterSettings.NONE);
    if (!now.equals(before)) {
      notes.accept(
          IncidentKind.CAUTION,
          "the %s says %s, though nothing else was set: somebody turned it at its panel or from elsewhere since it last said so. Points since then are stored with what it said before; do not believe them before you know who did it, and measure them again"
              .formatted(role.text(), differences(before.words(), now.words())));
    }
  }

  /** The same of all meters at the end; one that does not answer any more spoils no run. */
  void lookAtAll() {
    relied.addAll(told.keySet());
    for (RoleName role : RoleName.values()) {
      try {
        look(role);
      } catch (InstrumentException e) {
        notes.accept(
            IncidentKind.CAUTION,
            "whether the settings of the %s are still what it said could not be asked: %s"
                .formatted(role.text(), e.getMessage()));
      }
    }
  }

  private static String differences(Map<String, String> before, Map<String, String> now) {
    Map<String, String> all = new TreeMap<>(before);
    all.putAll(now);
    return new TreeSet<>(all.keySet())
        .stream()
            .filter(name -> !Objects.equals(before.get(name), now.get(name)))
            .map(
                name ->
                    "%s %s and said %s"
                        .formatted(
                            name,
                            now.getOrDefault(name, "nothing"),
                            before.getOrDefault(name, "nothing")))
            .collect(Collectors.joining(", "));
  }
}
