// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.screening;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.IntStream;
import millrace.analysis.reduction.SampleMedian;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.PointConditions;
import millrace.evidence.Result;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/**
 * Screens imported readings for outliers, as a run screens its own readings. It compares the
 * difference between repeats of one load in one stay with their stated u and with the usual
 * difference between repeats. Of two repeats the neighbouring loads decide which is off; if they do
 * not, both include the difference as a point-wise error. If no load was repeated, {@link
 * LoneOutlierScreening} applies. Single-threaded.
 */
public final class ImportedOutlierScreening {
  /** The same threshold as for a reading and its neighbours in a run. */
  private static final double SIGMAS = 6;

  /**
   * The other of two repeats must be nearer to the value from the neighbouring loads by this
   * factor.
   */
  private static final double CLEAR = 3;

  /** Median of the absolute value of a standard normal variable. */
  private static final double NORMAL_MEDIAN = 0.6745;

  /** Fewer pairs than this give no usual difference. */
  private static final int LEAST_PAIRS = 4;

  /** If more than one load in this many is off, the stay is unsteady and no point is excluded. */
  private static final int FEW = 4;

  /** By name of the point, as are the following. */
  private final Set<String> wild = new HashSet<>();

  private final Set<String> ranges = new HashSet<>();
  private final Map<String, Double> torn = new HashMap<>();
  private final Map<String, String> said = new HashMap<>();

  private ImportedOutlierScreening() {}

  /**
   * Screens points.
   *
   * @param points of an import, their stays numbered
   */
  public static ImportedOutlierScreening of(List<ReducedPoint> points) {
    ImportedOutlierScreening found = new ImportedOutlierScreening();
    TemperatureStays.byRange(points)
        .values()
        .forEach(
            range -> {
              double usual = usualA(range);
              TemperatureStays.byStay(range).values().forEach(stay -> found.screen(stay, usual));
              found.lone(
                  TemperatureStays.byStay(range).values().stream()
                      .map(ImportedOutlierScreening::byLoad)
                      .toList());
            });
    return found;
  }

  /** The points of a stay by load, voltage, supply and set value, in the order of voltage. */
  private static List<List<ReducedPoint>> byLoad(List<ReducedPoint> stay) {
    Map<List<Object>, List<ReducedPoint>> loads = new LinkedHashMap<>();
    for (ReducedPoint p : stay) {
      PointConditions c = p.point().conditions();
      boolean named =
          c.loadOhm().isPresent() || c.terminalVoltageV().isPresent() || c.setA().isPresent();
      if (named && !p.unsteady()) {
        List<Object> key = List.of(c.loadOhm(), c.terminalVoltageV(), c.supplyV(), c.setA());
        loads.computeIfAbsent(key, k -> new ArrayList<>()).add(p);
      }
    }
    List<List<ReducedPoint>> sorted = new ArrayList<>(loads.values());
    sorted.sort((a, b) -> Double.compare(volts(a), volts(b)));
    return sorted;
  }

  private static double volts(List<ReducedPoint> load) {
    return Math.abs(load.get(0).voltageV().value());
  }

  private static double middle(List<ReducedPoint> load) {
    return SampleMedian.of(load.stream().mapToDouble(p -> p.currentA().value()).toArray());
  }

  /** The usual difference of a point from its repeats, A; 0 with too few repeats. */
  private static double usualA(List<ReducedPoint> points) {
    List<Double> apart = new ArrayList<>();
    for (List<ReducedPoint> stay : TemperatureStays.byStay(points).values()) {
      for (List<ReducedPoint> load : byLoad(stay)) {
        for (int i = 1; i < load.size(); i++) {
          apart.add(Math.abs(load.get(i).currentA().value() - load.get(i - 1).currentA().value()));
        }
      }
    }
    double[] all = apart.stream().mapToDouble(a -> a).toArray();
    return all.length < LEAST_PAIRS ? 0 : SampleMedian.of(all) / NORMAL_MEDIAN / Math.sqrt(2);
  }

  private void screen(List<ReducedPoint> stay, double usualA) {
    List<List<ReducedPoint>> loads = byLoad(stay);
    double atLeast = Math.max(usualA, usualA(stay));
    List<Integer> apart = new ArrayList<>();
    for (int i = 0; i < loads.size(); i++) {
      if (apart(loads.get(i), atLeast)) {
        apart.add(i);
      }
    }
    boolean few = apart.size() * FEW <= loads.size();
    for (int i : apart) {
      List<ReducedPoint> load = loads.get(i);
      List<ReducedPoint> off = few ? off(loads, i, apart, atLeast) : List.of();
      if (off.isEmpty()) {
        widen(load);
      } else {
        off.forEach(p -> leaveOut(p, load, off));
      }
    }
  }

  /** Without repeats, neighbouring loads and other stays decide. */
  private void lone(List<List<List<ReducedPoint>>> stays) {
    boolean single =
        !stays.isEmpty()
            && stays.stream().allMatch(s -> s.stream().allMatch(load -> load.size() == 1));
    if (!single) {
      return;
    }
    List<List<ReducedPoint>> sweeps =
        stays.stream().map(s -> s.stream().map(load -> load.get(0)).toList()).toList();
    for (LoneOutlierScreening.Off off : LoneOutlierScreening.of(sweeps)) {
      wild.add(off.point().name());
      ranges.add(off.point().range());
      said.put(
          off.point().name(),
          "suspect, left out: %s off what the loads beside say, %s times the u of that, and nothing of the kind is there at other temperatures"
              .formatted(
                  QuantityText.print(off.awayA(), Dimension.CURRENT, 3),
                  NumberText.significant(Math.abs(off.awayA()) / off.uA(), 2)));
    }
  }

  private static double limitA(ReducedPoint p, double atLeast) {
    return SIGMAS * Math.max(p.currentA().pointUncertainty(), atLeast);
  }

  private static boolean apart(List<ReducedPoint> load, double atLeast) {
    double low = load.stream().mapToDouble(p -> p.currentA().value()).min().orElse(0);
    double high = load.stream().mapToDouble(p -> p.currentA().value()).max().orElse(0);
    double limit = load.stream().mapToDouble(p -> limitA(p, atLeast)).max().orElse(0);
    return load.size() > 1 && limit > 0 && high - low > Math.sqrt(2) * limit;
  }

  /** The outlying points of a load; empty if undecided. */
  private static List<ReducedPoint> off(
      List<List<ReducedPoint>> loads, int at, List<Integer> apart, double atLeast) {
    List<ReducedPoint> load = loads.get(at);
    if (load.size() == 2) {
      OptionalDouble expected = besides(loads, at, apart);
      if (expected.isEmpty()) {
        return List.of();
      }
      double a = Math.abs(load.get(0).currentA().value() - expected.getAsDouble());
      double b = Math.abs(load.get(1).currentA().value() - expected.getAsDouble());
      boolean clear = Math.max(a, b) > CLEAR * Math.min(a, b);
      return clear ? List.of(load.get(a > b ? 0 : 1)) : List.of();
    }
    double middle = middle(load);
    List<ReducedPoint> off =
        load.stream()
            .filter(p -> Math.abs(p.currentA().value() - middle) > limitA(p, atLeast))
            .toList();
    return 2 * off.size() < load.size() ? off : List.of();
  }

  /** The value at a load from the line through the two nearest loads with consistent repeats, A. */
  private static OptionalDouble besides(
      List<List<ReducedPoint>> loads, int at, List<Integer> apart) {
    double v = volts(loads.get(at));
    List<List<ReducedPoint>> near =
        IntStream.range(0, loads.size())
            .filter(i -> !apart.contains(i))
            .mapToObj(loads::get)
            .filter(l -> volts(l) != v)
            .sorted((a, b) -> Double.compare(Math.abs(volts(a) - v), Math.abs(volts(b) - v)))
            .limit(2)
            .toList();
    if (near.size() < 2 || volts(near.get(0)) == volts(near.get(1))) {
      return OptionalDouble.empty();
    }
    double share = (v - volts(near.get(0))) / (volts(near.get(1)) - volts(near.get(0)));
    return OptionalDouble.of((1 - share) * middle(near.get(0)) + share * middle(near.get(1)));
  }

  private void leaveOut(ReducedPoint p, List<ReducedPoint> load, List<ReducedPoint> off) {
    wild.add(p.name());
    ranges.add(p.range());
    List<ReducedPoint> good = load.stream().filter(q -> !off.contains(q)).toList();
    double without = mean(good);
    double away = p.currentA().value() - without;
    double u = p.currentA().pointUncertainty();
    String times =
        u > 0 ? ", " + NumberText.significant(Math.abs(away) / u, 2) + " times its u" : "";
    said.put(
        p.name(),
        "suspect, left out: %s off %s%s; the mean there with it is %s, without it %s"
            .formatted(
                QuantityText.print(away, Dimension.CURRENT, 3),
                good.size() == 1 ? "its repeat" : "its repeats",
                times,
                QuantityText.print(mean(load), Dimension.CURRENT, 8),
                QuantityText.print(without, Dimension.CURRENT, 8)));
  }

  private static double mean(List<ReducedPoint> load) {
    return load.stream().mapToDouble(p -> p.currentA().value()).average().orElse(0);
  }

  private void widen(List<ReducedPoint> load) {
    double mean = mean(load);
    double squares = load.stream().mapToDouble(p -> Math.pow(p.currentA().value() - mean, 2)).sum();
    double s = Math.sqrt(squares / (load.size() - 1));
    for (ReducedPoint p : load) {
      torn.put(p.name(), s);
      said.put(
          p.name(),
          "its repeats differ by more than their u, and nothing tells which is off: each carries %s as 'difference of repeats'"
              .formatted(QuantityText.print(s, Dimension.CURRENT, 2)));
    }
  }

  /** Whether any point of a range was left out. */
  public boolean anyIn(String range) {
    return ranges.contains(range);
  }

  /** The points without suspects; points with inconsistent repeats have a larger u. */
  public List<ReducedPoint> without(List<ReducedPoint> points) {
    return points.stream().filter(p -> !wild.contains(p.name())).map(this::widened).toList();
  }

  private ReducedPoint widened(ReducedPoint p) {
    Double s = torn.get(p.name());
    if (s == null) {
      return p;
    }
    ErrorSource difference =
        new ErrorSource(
            "difference of repeats",
            ErrorSource.POINT,
            p.name(),
            ErrorDistribution.NORMAL,
            OptionalDouble.of(1),
            s,
            "A");
    return p.withCurrent(p.currentA().with(difference, 1));
  }

  /** Notes on the exclusions, in the order of the points. */
  public List<String> notes(List<ReducedPoint> points) {
    return points.stream()
        .filter(p -> said.containsKey(p.name()))
        .map(p -> "%s (%s): %s".formatted(p.name(), p.point().key(), said.get(p.name())))
        .toList();
  }

  /**
   * Results without suspects; a note gives the value with suspects if it differs.
   *
   * @param without results without suspects
   * @param with results with suspects
   */
  public static List<Result> beside(List<Result> without, List<Result> with) {
    List<Result> noted = new ArrayList<>();
    for (Result r : without) {
      with.stream()
          .filter(o -> o.quantity() == r.quantity() && o.at().equals(r.at()))
          .filter(o -> Objects.equals(o.range(), r.range()))
          .findFirst()
          .ifPresentOrElse(o -> noted.add(noted(r, o)), () -> noted.add(r));
    }
    return noted;
  }

  private static Result noted(Result without, Result with) {
    if (!(without.outcome() instanceof ComputationOutcome.Value a)
        || !(with.outcome() instanceof ComputationOutcome.Value b)
        || a.value() == b.value()) {
      return without;
    }
    return without.noting(
        "suspect readings are left out; with them %s %s"
            .formatted(NumberText.significant(b.value(), 6), without.quantity().unit()));
  }
}
