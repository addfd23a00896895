// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.run.condition.ConditionSetter;
import millrace.run.journal.Journal;

/**
 * Compares a reading with earlier ones where its own point has no other to compare with: the only
 * one of a point, those of a time series, temperatures. Single-threaded.
 */
public final class EarlierReadingCheck {
  private static final int MOST_TRIES = 3;

  /**
   * Incidents per series of readings; further suspect readings are in the logbook as well, without
   * an incident.
   */
  private static final int MOST_REPORTED = 20;

  private static final double LEAST_K = 0.02;
  private static final double LEAST_V = 1e-3;
  private static final double LEAST_HUMIDITY = 0.01;

  private final Journal journal;
  private final ConditionSetter conditionSetter;
  private final Map<String, Followed> followed = new HashMap<>();

  /** A series of values, and how many incidents were written about it. */
  private static final class Followed {
    private final NextReadingForecast trend;
    private int reported;

    Followed(double step) {
      trend = new NextReadingForecast(step);
    }
  }

  /**
   * A check without earlier readings.
   *
   * @param journal takes what is noticed as incidents
   * @param conditionSetter says under which conditions is read
   */
  public EarlierReadingCheck(Journal journal, ConditionSetter conditionSetter) {
    this.journal = journal;
    this.conditionSetter = conditionSetter;
  }

  /**
   * The source of a series of readings.
   *
   * @param role the role
   * @param what readings that belong together have it in common
   * @param settles whether the value is constant, so that two readings that agree show a third to
   *     be wrong; where it may drift, only the earlier readings do
   */
  public record Source(RoleName role, String what, boolean settles) {}

  /**
   * Compares a reading with those before it, and repeats it if it deviates or is the first. A value
   * that is not confirmed is kept as suspect; one that is confirmed is the new level.
   *
   * @param readings the list that holds it; suspects are marked in it
   * @param at where in the list
   * @param source who is read
   * @param again reads once more and appends to the same list
   * @return why the point must be flagged; empty if the reading is confirmed
   */
  public Optional<String> follow(List<Reading> readings, int at, Source source, Runnable again) {
    Followed one =
        followed.computeIfAbsent(
            source.role().text() + " " + source.what(), k -> new Followed(step(source.role())));
    List<Integer> tries = new ArrayList<>();
    for (int place = at; readings.get(place).state() == ReadingState.NUMBER; ) {
      tries.add(place);
      double x = value(readings, place);
      boolean stands = stands(readings, tries, one.trend) || isHeldElsewhere(source, one.trend);
      if (stands && (source.settles() || one.trend.expects(x))) {
        suspect(readings, tries, source.role(), one);
      }
      if (stands || tries.size() == MOST_TRIES) {
        one.trend.take(x);
        return stands ? Optional.empty() : Optional.of(ReadingRecheck.apart(source.role()));
      }
      again.run();
      place = readings.size() - 1;
    }
    return Optional.empty();
  }

  /**
   * The first voltage at a load is checked against the current through it ({@link
   * PlausibilityCheck}).
   */
  private static boolean isHeldElsewhere(Source source, NextReadingForecast trend) {
    return source.role() == RoleName.VOLTMETER && trend.isEmpty();
  }

  /** Whether the last try agrees with the values before or with the try before it. */
  private static boolean stands(
      List<Reading> readings, List<Integer> tries, NextReadingForecast trend) {
    int n = tries.size();
    double x = value(readings, tries.get(n - 1));
    return trend.expects(x) || (n > 1 && trend.agree(x, value(readings, tries.get(n - 2))));
  }

  private void suspect(List<Reading> readings, List<Integer> tries, RoleName role, Followed one) {
    double good = value(readings, tries.get(tries.size() - 1));
    for (int place : tries) {
      Reading off = readings.get(place);
      if (!one.trend.agree(good, value(readings, place))) {
        readings.set(place, SuspectReadings.one(off));
        if (one.reported++ < MOST_REPORTED) {
          ReadingRecheck.flag(journal, role, off);
        }
      }
    }
  }

  private static double value(List<Reading> readings, int place) {
    return readings.get(place).value().orElseThrow();
  }

  /** The smallest difference that counts; for thermometers common practice, no source. */
  private double step(RoleName role) {
    return switch (role) {
      case CURRENT_METER, VOLTMETER -> ReadingRecheck.resolution(role, conditionSetter.settings());
      case HYGROMETER -> LEAST_HUMIDITY;
      case SUPPLY -> LEAST_V;
      default -> LEAST_K;
    };
  }
}
