// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Optional;
import millrace.evidence.RunOrigin;

/**
 * What is known of a run when it begins.
 *
 * @param unit serial number of the unit; not blank
 * @param origin where its readings come from
 * @param title what the sequence calls itself
 * @param people who and what it belongs to
 * @param simulation what a simulated bench is rebuilt from; present for simulated runs only
 * @param millrace the version of Millrace that writes it
 * @param startedAt wall clock, between the years 1678 and 2261
 * @param offset offset of the local time from UTC
 * @param facts whatever else is worth keeping
 */
public record RunStart(
    String unit,
    RunOrigin origin,
    String title,
    People people,
    Optional<Simulation> simulation,
    String millrace,
    Instant startedAt,
    ZoneOffset offset,
    RunFacts facts) {
  /** Checks what the components promise. */
  public RunStart {
    if (unit.isBlank()) {
      throw new IllegalArgumentException("a run needs the serial number of its unit");
    }
    if (simulation.isPresent() != (origin == RunOrigin.SIMULATED)) {
      throw new IllegalArgumentException(
          "a run of origin '%s' %s a seed"
              .formatted(origin.text(), simulation.isPresent() ? "must not have" : "needs"));
    }
    TimestampNanos.nanos(startedAt);
  }

  /**
   * When the readings were taken.
   *
   * @return wall clock; empty for imported readings whose file does not say: their run began when
   *     they were imported
   */
  public Optional<Instant> measuredAt() {
    boolean unknown = origin == RunOrigin.IMPORTED && !facts.dated();
    return unknown ? Optional.empty() : Optional.of(startedAt);
  }

  /**
   * The operator, batch and other labels of a run.
   *
   * @param operator who started it
   * @param batch the batch that the unit belongs to
   * @param tag a free word to find the run by
   */
  public record People(Optional<String> operator, Optional<String> batch, Optional<String> tag) {
    /** No labels. */
    public static final People NONE =
        new People(Optional.empty(), Optional.empty(), Optional.empty());
  }

  /**
   * The data from which a simulated bench is rebuilt.
   *
   * @param seed the seed of unit and bench
   * @param virtualTime true if its time moved only in sleeps
   */
  public record Simulation(long seed, boolean virtualTime) {}
}
