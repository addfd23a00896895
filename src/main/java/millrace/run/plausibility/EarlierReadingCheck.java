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
 * Holds readings that have no neighbour at their point against those before them: the only one of a
 * point, those of a time series, temperatures. Single-threaded.
 */
public final class EarlierReadingCheck {
  private static final int MOST_TRIES = 3;

  /** Of readings under one name; the others are in the logbook as suspect, too. */
  private static final int MOST_REPORTED = 20;

  private static final double LEAST_K = 0.02;
  private static final double LEAST_V = 1e-3;
  private static final double LEAST_HUMIDITY = 0.01;

  private final Journal journal;
  private final ConditionSetter conditionSetter;
  private final Map<String, Followed> followed = new HashMap<>();

  /** Values that follow one another, and how often it was said that one was off. */
  private static final class Followed {
    private final NextReadingForecast trend;
    private int reported;

    Followed(double step) {
      trend = new NextReadingForecast(step);
    }
  }

  /**
   * A check that knows no reading yet.
   *
   * @param journal takes what is noticed as incidents
   * @param conditionSetter says under which conditions is read
   */
  public EarlierReadingCheck(Journal journal, ConditionSetter conditionSetter) {
    this.journal = journal;
    this.conditionSetter = conditionSetter;
  }

  /**
   * Who is read.
   *
   * @param role the role
   * @param what readings that belong together have it in common
   * @param settles whether values stand still, so that two that agree rule out a third; where they
   *     may run, only what was before does
   */
  public record Source(RoleName role, String what, boolean settles) {}

  /**
   * Holds a reading against those before it, and asks again where it is off or is the first: what
   * does not come twice is kept as suspect, what does is where values went.
   *
   * @param readings the list that holds it; suspects are marked in it
   * @param at where in the list
   * @param source who is read
   * @param again reads once more, into the end of the same list
   * @return why it must be flagged; empty if it is good by now
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
   * The first voltage at a load is held against the current through it ({@link PlausibilityCheck}).
   */
  private static boolean isHeldElsewhere(Source source, NextReadingForecast trend) {
    return source.role() == RoleName.VOLTMETER && trend.isEmpty();
  }

  /**
   * Whether the last of some tries is where the values before were, or where the try before was.
   */
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

  /** The least difference that means anything; of thermometers common practice, no source. */
  private double step(RoleName role) {
    return switch (role) {
      case CURRENT_METER, VOLTMETER -> ReadingRecheck.resolution(role, conditionSetter.settings());
      case HYGROMETER -> LEAST_HUMIDITY;
      case SUPPLY -> LEAST_V;
      default -> LEAST_K;
    };
  }
}
