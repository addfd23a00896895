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
 * What a board test is about: the limits of a datasheet that can be told in seconds at the
 * temperature of the room, and the rest, for which a type run has to stand.
 *
 * @param datasheet what boards promise; it states a limit that a board test tells
 * @param ranges those with such a limit, in the order of the datasheet
 * @param quantities that have such a limit
 * @param left quantities with limits that no board test tells
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

  /** What rests on small differences of currents, which more passes tell better. */
  private static final Set<ResultQuantity> SLOPES =
      EnumSet.of(
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.LOAD_REGULATION);

  /** Where the knee is found, the line rests on what lies below this share of it, % (3.2). */
  private static final double LINE_TOP = 80;

  private static final double MOST_TOP = 100;

  /** So far beyond a promised voltage, %, that an error of the current cannot hide it. */
  private static final double JUST_BEYOND = 0.1;

  /** So far beyond it that a knee which is no better than it has to be is past, %. */
  private static final double PAST = 8;

  /** Copies the collections. */
  public BoardScope {
    ranges = List.copyOf(ranges);
    quantities = Set.copyOf(quantities);
    left = Set.copyOf(left);
  }

  /**
   * A range and how far it is loaded.
   *
   * @param name of the range
   * @param topPercent the highest load of its line, % of the compliance voltage
   * @param endsPercent loads that follow once, %, rising: up to where a current is promised, to
   *     where a compliance voltage is promised, and past the knee, so that what begins to fall
   *     before it stays out of the line
   */
  public record LoadedRange(String name, double topPercent, List<Double> endsPercent) {
    /** Copies the list. */
    public LoadedRange {
      endsPercent = List.copyOf(endsPercent);
    }
  }

  /**
   * The scope of a datasheet.
   *
   * @param datasheet each range with limits states a compliance voltage
   * @return the scope; without ranges where no limit can be told by a board test
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
   * What more passes over the loads tell better.
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
