// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.bench.Bench;
import millrace.bench.role.Instrument;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointConditions;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.run.condition.ConditionSetter;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;

/**
 * Notices that settings of instruments were changed by somebody else, for example by hand at a
 * panel, by another program or by a protection that tripped, and ends the run: the conditions of
 * later readings are unknown. Single-threaded.
 */
public final class InstrumentTampering {
  /**
   * How many points, looks or seconds in a row may be without current; a board that fails during
   * its test is judged all the same.
   */
  private static final int MOST_GONE = 3;

  private final Bench bench;
  private final ConditionSetter conditionSetter;
  private final Journal journal;
  private final boolean severalUnits;
  private final boolean boards;
  private final Set<Where> flowed = new HashSet<>();
  private final Set<Where> asked = new HashSet<>();
  private final List<Where> without = new ArrayList<>();

  /** A unit in a range. */
  private record Where(String slot, String range) {}

  /**
   * Watches the instruments of one run.
   *
   * @param setting what the run was given
   * @param conditionSetter says what was set
   * @param journal takes what is noticed as incidents
   */
  public InstrumentTampering(RunContext setting, ConditionSetter conditionSetter, Journal journal) {
    this.bench = setting.bench();
    this.conditionSetter = conditionSetter;
    this.journal = journal;
    this.severalUnits = setting.writers().several();
    this.boards = setting.stop().isAmongBoards();
  }

  /** Reads back what was set: after a pause, in which people do things at a bench. */
  public void afterPause() {
    refuseChanged("while the run was paused");
  }

  /**
   * After a point, a look at a unit that soaks, or a second of a time series is in the logbook.
   *
   * @param at its conditions
   * @param flows whether its current flowed
   * @return whether the current there is gone for good, where that does not end the run
   */
  public boolean after(PointConditions at, boolean flows) {
    Where where = new Where(at.slot().orElse(""), at.range().orElse(""));
    if (flows) {
      flowed.add(where);
      without.clear();
    } else if (!flowed.isEmpty()) { // otherwise the unit never gave any: the trial lap reports that
      without.add(where);
      if (without.size() == 1 && (flowed.contains(where) || asked.add(where))) {
        lookAgain();
      }
      if (without.size() >= MOST_GONE && isAllGone() && !boards) {
        stop(
            "no current flows %s times in a row, where some did before: the source or its supply was switched off behind the run's back, a lead came off, or the unit died. What was read then is flagged. The bench goes to its safe state; find the cause before going on."
                .formatted(without.size()));
      }
    }
    return Collections.frequency(without, where) >= MOST_GONE;
  }

  /** A range that never gave any, or one of several units, is the unit's own fault. */
  private boolean isAllGone() {
    long units = without.stream().map(Where::slot).distinct().count();
    long ranges = without.stream().map(Where::range).distinct().count();
    boolean wasThere = without.stream().anyMatch(flowed::contains);
    return severalUnits ? units > 1 : wasThere || ranges > 1;
  }

  /** The point is in the logbook: an instrument that does not answer now fails the next one. */
  private void lookAgain() {
    try {
      refuseChanged("since current last flowed");
    } catch (InstrumentException e) {
      journal.incident(
          IncidentKind.CAUTION, "what was set could not be read back: " + e.getMessage());
    }
  }

  private void refuseChanged(String when) {
    Optional<String> changed = conditionSetter.changed();
    for (Instrument each : bench.instruments().values()) {
      changed = changed.or(each::changed);
    }
    changed.ifPresent(
        what ->
            stop(
                "changed behind the run's back, %s: %s. The bench goes to its safe state; find out who or what did it before going on."
                    .formatted(when, what)));
  }

  private void stop(String text) {
    journal.incident(IncidentKind.BREACH, text);
    throw new InterlockException(text);
  }
}
