// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.logbook.RunWriter;

/**
 * The writers of a night: one run per unit. An event of one unit goes into its run, an event of all
 * units into every run. Single-threaded.
 */
public final class NightRunWriters {
  private final Map<String, RunWriter> bySlot;

  private NightRunWriters(Map<String, RunWriter> bySlot) {
    this.bySlot = Collections.unmodifiableMap(new LinkedHashMap<>(bySlot));
  }

  /**
   * One unit.
   *
   * @param writer its run
   * @return the writers
   */
  public static NightRunWriters of(RunWriter writer) {
    return new NightRunWriters(Map.of("", writer));
  }

  /**
   * Several units in one chamber.
   *
   * @param bySlot the run of each unit by the slot it sits in, at least one
   * @return the writers
   */
  public static NightRunWriters of(Map<String, RunWriter> bySlot) {
    if (bySlot.isEmpty()) {
      throw new IllegalArgumentException("a night of no unit");
    }
    return new NightRunWriters(bySlot);
  }

  /** The first run: messages about the whole night name it. */
  RunWriter first() {
    return bySlot.values().iterator().next();
  }

  List<RunWriter> all() {
    return List.copyOf(bySlot.values());
  }

  /** Whether more than one unit is measured. */
  public boolean several() {
    return bySlot.size() > 1;
  }

  /** The runs concerned by a slot; all of them where no slot is named. */
  List<RunWriter> of(Optional<String> slot) {
    Optional<RunWriter> own = slot.map(bySlot::get);
    return own.map(List::of).orElseGet(this::all);
  }
}
