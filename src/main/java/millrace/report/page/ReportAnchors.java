// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.evidence.Point;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;

/** The names by which parts of a report point at one another; the same for everyone who asks. */
final class ReportAnchors {
  private final List<String> ranges;
  private final List<Group> groups;

  /**
   * Points that belong together: one range on one stay.
   *
   * @param range the range; empty for what has none
   * @param degC what the chamber was set to; empty if it was not
   * @param visit which visit of that temperature, from 0
   */
  record Group(Optional<String> range, OptionalDouble degC, int visit) {
    static Group of(Point p) {
      return new Group(
          p.conditions().range(), p.conditions().temperatureDegC(), p.conditions().visit());
    }
  }

  ReportAnchors(Assessment assessment, List<Point> points) {
    this.ranges = ranges(assessment);
    this.groups = points.stream().map(Group::of).distinct().toList();
  }

  /** The ranges in the order of the datasheet, then whatever else was measured. */
  static List<String> ranges(Assessment assessment) {
    List<String> seen = new ArrayList<>();
    assessment.loads().forEach(l -> seen.add(l.range()));
    assessment.temperatures().forEach(t -> seen.add(t.range()));
    assessment.results().forEach(r -> r.range().ifPresent(seen::add));
    List<String> ordered = new ArrayList<>();
    Optional<Datasheet> datasheet = assessment.basis().datasheet();
    datasheet.ifPresent(d -> ordered.addAll(d.ranges().keySet()));
    ordered.retainAll(seen);
    seen.stream().filter(r -> !ordered.contains(r)).forEach(ordered::add);
    return ordered.stream().distinct().toList();
  }

  /** The results of one range. */
  String results(Optional<String> range) {
    return "results" + (range.isEmpty() ? "-unit" : "-" + number(range.get()));
  }

  private int number(String range) {
    return ranges.indexOf(range) + 1;
  }

  /** A picture of a range, by what it shows. */
  String picture(String what, String range) {
    return what + "-" + number(range);
  }

  /** The picture that shows a result; whether it was drawn is another question. */
  Optional<String> plot(Result r) {
    return r.range()
        .flatMap(
            range ->
                switch (r.quantity()) {
                  case OUTPUT_CONDUCTANCE, OUTPUT_RESISTANCE, LOAD_REGULATION ->
                      Optional.of(picture("plateau", range));
                  case COMPLIANCE_VOLTAGE, KNEE_VOLTAGE -> Optional.of(picture("knee", range));
                  case LINEARITY_INDEPENDENT,
                      LINEARITY_TERMINAL,
                      LINEARITY_ZERO,
                      LINEARITY_LEAST_SQUARES ->
                      Optional.of(picture("linearity", range));
                  case TEMPCO,
                      TEMPCO_BOX,
                      TEMPCO_QUADRATIC_A,
                      TEMPCO_QUADRATIC_B,
                      TEMPCO_COLD,
                      TEMPCO_HOT,
                      TURNOVER,
                      THERMAL_HYSTERESIS ->
                      Optional.of(picture("temperature", range));
                  case CURRENT, CURRENT_ERROR -> Optional.of(picture("response", range));
                  case DRIFT, NOISE_RMS, NOISE_PEAK_TO_PEAK, ALLAN_DEVIATION ->
                      Optional.of(picture("time", range));
                  default -> Optional.empty();
                });
  }

  /** The points that a result was made from, or the first of them. */
  Optional<String> points(Result r) {
    if (r.range().isEmpty()) {
      return Optional.empty();
    }
    OptionalDouble degC = r.at().number(ResultConditionKey.TEMPERATURE_DEGC);
    return groups.stream()
        .filter(g -> g.range().equals(r.range()))
        .min(Comparator.comparingDouble(g -> apart(g, degC)))
        .map(this::points);
  }

  private static double apart(Group group, OptionalDouble degC) {
    return degC.isEmpty() || group.degC().isEmpty()
        ? 0
        : Math.abs(degC.getAsDouble() - group.degC().getAsDouble());
  }

  /** Where points that belong together are listed. */
  String points(Group group) {
    return "points-" + (groups.indexOf(group) + 1);
  }
}
