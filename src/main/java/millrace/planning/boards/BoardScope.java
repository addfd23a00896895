// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.ResultQuantity;
import millrace.quantity.ClosedInterval;

/**
 * The scope of a board test: the limits of a datasheet that can be tested in seconds at room
 * temperature, and the rest, which needs a type run.
 *
 * @param datasheet the promises for the boards; it states at least one limit that a board test
 *     covers
 * @param ranges the ranges with such a limit, in the order of the datasheet
 * @param quantities the quantities that have such a limit
 * @param left the quantities whose limits no board test covers
 */
public record BoardScope(
    Datasheet datasheet,
    List<LoadedRange> ranges,
    Set<ResultQuantity> quantities,
    Set<ResultQuantity> left) {
  private static final Set<ResultQuantity> TOLD =
      EnumSet.of(
          ResultQuantity.CURRENT,
          ResultQuantity.CURRENT_ERROR,
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.LOAD_REGULATION,
          ResultQuantity.COMPLIANCE_VOLTAGE);

  /**
   * Quantities that rest on small differences of currents; more passes reduce their uncertainty.
   */
  private static final Set<ResultQuantity> SLOPES =
      EnumSet.of(
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.LOAD_REGULATION);

  /**
   * The line rests on loads below this share of the knee voltage where the knee is found, % (3.2).
   */
  private static final double LINE_TOP = 80;

  private static final double MOST_TOP = 100;

  /**
   * The distance beyond a promised voltage, %, at which an error of the current cannot hide the
   * fall.
   */
  private static final double JUST_BEYOND = 0.1;

  /**
   * The distance beyond it, %, at which the knee of a unit that only just meets its limit is past.
   */
  private static final double PAST = 8;

  /** Copies the collections. */
  public BoardScope {
    ranges = List.copyOf(ranges);
    quantities = Set.copyOf(quantities);
    left = Set.copyOf(left);
  }

  /**
   * A range and the loads it is measured at.
   *
   * @param name the name of the range
   * @param topPercent the highest load of its line, % of the compliance voltage
   * @param endsPercent loads that follow once, %, rising: up to the voltage where a current is
   *     promised, up to the promised compliance voltage, and past the knee, so that the beginning
   *     of the fall stays out of the line
   */
  public record LoadedRange(String name, double topPercent, List<Double> endsPercent) {
    /** Copies the list. */
    public LoadedRange {
      endsPercent = List.copyOf(endsPercent);
    }
  }

  /**
   * Makes the scope of a datasheet.
   *
   * @param datasheet each range with limits states a compliance voltage
   * @return the scope; without ranges where a board test covers no limit
   */
  public static BoardScope of(Datasheet datasheet) {
    List<LoadedRange> ranges = new ArrayList<>();
    for (String name : datasheet.ranges().keySet()) {
      List<DatasheetLimit> told =
          datasheet.limits().stream()
              .filter(l -> l.isFor(Optional.of(name)) && TOLD.contains(l.quantity()))
              .toList();
      if (!told.isEmpty()) {
        ranges.add(loaded(name, told, datasheet));
      }
    }
    Set<ResultQuantity> all =
        datasheet.limits().stream().map(DatasheetLimit::quantity).collect(Collectors.toSet());
    Set<ResultQuantity> left = EnumSet.noneOf(ResultQuantity.class);
    all.stream().filter(q -> !TOLD.contains(q)).forEach(left::add);
    all.retainAll(TOLD);
    return new BoardScope(datasheet, ranges, all, left);
  }

  private static LoadedRange loaded(String name, List<DatasheetLimit> told, Datasheet datasheet) {
    double fullV = datasheet.complianceVoltageV(name).orElseThrow();
    double highestV =
        told.stream()
            .flatMap(l -> l.when().terminalVoltageV().stream())
            .mapToDouble(ClosedInterval::upper)
            .max()
            .orElse(0);
    double top = Math.min(MOST_TOP, Math.max(LINE_TOP, Math.ceil(100 * highestV / fullV) + 1));
    OptionalDouble promisedV =
        told.stream()
            .filter(l -> l.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE)
            .flatMap(l -> l.lower().stream())
            .mapToDouble(DatasheetLimit.Side::value)
            .max();
    if (promisedV.isEmpty()) {
      return new LoadedRange(name, top, List.of());
    }
    double promised = 100 * promisedV.getAsDouble() / fullV;
    List<Double> ends = new ArrayList<>(List.of(promised + JUST_BEYOND, promised + PAST));
    if (top > LINE_TOP) {
      ends.add(0, top);
    }
    return new LoadedRange(name, LINE_TOP, ends);
  }

  /**
   * The quantities that more passes over the loads improve.
   *
   * @return quantities that have limits; may be empty
   */
  public Set<ResultQuantity> again() {
    Set<ResultQuantity> again = EnumSet.noneOf(ResultQuantity.class);
    quantities.stream().filter(SLOPES::contains).forEach(again::add);
    return again;
  }

  /** Names of the ranges, in the order of the datasheet. */
  List<String> names() {
    return ranges.stream().map(LoadedRange::name).toList();
  }

  LoadedRange range(String name) {
    return ranges.stream().filter(r -> r.name().equals(name)).findFirst().orElseThrow();
  }
}
