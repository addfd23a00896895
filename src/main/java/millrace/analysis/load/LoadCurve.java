package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;

/**
 * A load sweep of one range at one temperature: which points are plateau, the line through them,
 * and where the current falls away from it (measurement.md 3.1 to 3.3). Immutable and thread-safe.
 */
public final class LoadCurve {
  /** Least number of points of different load for a line. */
  public static final int LEAST_LOADS = 3;

  private static final double SAFE_SHARE = 0.8;
  private static final int MOST_ROUNDS = 10;

  private final LoadQuestion question;
  private final List<List<LoadPoint>> loads;
  private final List<String> notes = new ArrayList<>();
  private PlateauLine line;
  private List<LoadPoint> plateau;
  private Optional<Crossing> crossing = Optional.empty();

  private LoadCurve(List<LoadPoint> points, LoadQuestion question) {
    this.question = question;
    this.loads = byLoad(points);
    int members = membership();
    this.plateau = flat(loads.subList(0, members));
    this.line = PlateauLine.of(plateau);
    refine(members);
    if (line.birge() > 1) {
      notes.add(
          "curved plateau: scatter exceeds its bound, the slope is the mean one and its u is widened");
    }
  }

  /**
   * Studies a sweep.
   *
   * @param points the points, in any order
   * @param question what is asked
   * @return the curve; empty if there are fewer than {@link #LEAST_LOADS} different loads
   */
  public static Optional<LoadCurve> of(List<LoadPoint> points, LoadQuestion question) {
    boolean enough = byLoad(points).size() >= LEAST_LOADS;
    return enough ? Optional.of(new LoadCurve(points, question)) : Optional.empty();
  }

  /** The points in rising load (voltage where no load is given), those of one load together. */
  private static List<List<LoadPoint>> byLoad(List<LoadPoint> points) {
    boolean given = points.stream().allMatch(p -> p.loadOhm().isPresent());
    Comparator<LoadPoint> order =
        given
            ? Comparator.comparingDouble((LoadPoint p) -> p.loadOhm().getAsDouble())
                .thenComparingDouble(LoadPoint::timeS)
            : Comparator.comparingDouble(p -> p.voltageV().value());
    List<LoadPoint> sorted = new ArrayList<>(points);
    sorted.sort(order);
    List<List<LoadPoint>> loads = new ArrayList<>();
    for (LoadPoint p : sorted) {
      if (given && !loads.isEmpty() && sameLoad(loads.get(loads.size() - 1).get(0), p)) {
        loads.get(loads.size() - 1).add(p);
      } else {
        loads.add(new ArrayList<>(List.of(p)));
      }
    }
    return loads;
  }

  private static boolean sameLoad(LoadPoint a, LoadPoint b) {
    double ra = a.loadOhm().orElseThrow();
    double rb = b.loadOhm().orElseThrow();
    return Math.abs(ra - rb) <= 1e-9 * Math.max(ra, rb);
  }

  private static List<LoadPoint> flat(List<List<LoadPoint>> loads) {
    return loads.stream().flatMap(List::stream).toList();
  }

  private static double voltage(List<LoadPoint> load) {
    return load.stream().mapToDouble(p -> p.voltageV().value()).average().orElseThrow();
  }

  private static double current(List<LoadPoint> load) {
    return load.stream().mapToDouble(p -> p.currentA().value()).average().orElseThrow();
  }

  private static double u(List<LoadPoint> load) {
    double sum = 0;
    for (LoadPoint p : load) {
      sum += Math.pow(p.currentA().pointUncertainty(), 2);
    }
    return Math.sqrt(sum) / load.size();
  }

  /** How many loads belong to the plateau (measurement.md 3.2). */
  private int membership() {
    int members = seed();
    PlateauLine grown = PlateauLine.of(flat(loads.subList(0, members)));
    boolean failedBefore = false;
    int accepted = members;
    for (int i = members; i < loads.size(); i++) {
      boolean fits = fits(loads.get(i), grown);
      if (fits) {
        accepted = i + 1;
        failedBefore = false;
        grown = PlateauLine.of(flat(loads.subList(0, accepted)));
      } else if (failedBefore || i == loads.size() - 1) {
        return Math.max(Math.min(LEAST_LOADS, loads.size()), accepted - 1);
      } else {
        failedBefore = true;
      }
    }
    return accepted;
  }

  private int seed() {
    int half = (loads.size() + 1) / 2;
    if (question.complianceV().isEmpty()) {
      return Math.max(LEAST_LOADS, half);
    }
    double most = question.complianceV().getAsDouble() / 2;
    int count = (int) loads.stream().filter(l -> Math.abs(voltage(l)) <= most).count();
    int seed = count >= LEAST_LOADS ? count : Math.max(LEAST_LOADS, half);
    return Math.min(seed, loads.size());
  }

  private boolean fits(List<LoadPoint> load, PlateauLine grown) {
    double v = voltage(load);
    double predictedU = Math.hypot(u(load), grown.estimateAt(v).pointUncertainty());
    double slack = 3 * predictedU + question.criterion() * Math.abs(question.nominalA()) / 20;
    return sign() * (current(load) - grown.at(v)) >= -slack;
  }

  private double sign() {
    return Math.signum(question.nominalA());
  }

  /** Fits over the points up to 0.8 V_c and finds V_c again, until neither changes. */
  private void refine(int members) {
    List<LoadPoint> all = flat(loads.subList(0, members));
    for (int round = 0; round < MOST_ROUNDS; round++) {
      crossing = Crossing.find(loads, line, question);
      double most = crossing.map(c -> SAFE_SHARE * c.middleV()).orElse(Double.POSITIVE_INFINITY);
      List<LoadPoint> inside =
          all.stream().filter(p -> Math.abs(p.voltageV().value()) <= most).toList();
      if (inside.equals(plateau) || byLoad(inside).size() < LEAST_LOADS) {
        return;
      }
      plateau = inside;
      line = PlateauLine.of(plateau);
    }
  }

  /**
   * The question that was asked.
   *
   * @return the question
   */
  public LoadQuestion question() {
    return question;
  }

  /**
   * The points through which the line goes.
   *
   * @return in rising load
   */
  public List<LoadPoint> plateau() {
    return List.copyOf(plateau);
  }

  /**
   * Every point.
   *
   * @return in rising load
   */
  public List<LoadPoint> points() {
    return flat(loads);
  }

  /**
   * Current into a short.
   *
   * @return I_0, A
   */
  public Estimate shortCurrentA() {
    return line.i0();
  }

  /**
   * Output conductance with the fixture's taken off.
   *
   * @return G = -dI/dV, S
   */
  public Estimate conductanceS() {
    return line.g().minus(question.fixtureS());
  }

  /**
   * The plateau line at a voltage.
   *
   * @param voltageV V
   * @return A
   */
  public Estimate currentAtA(double voltageV) {
    return line.estimateAt(voltageV);
  }

  /**
   * The terminal voltage at the load at which the current is promised.
   *
   * @return V
   */
  public double referenceV() {
    return question.referenceOhm() * question.nominalA();
  }

  /**
   * Where the current falls away.
   *
   * @return the crossing of the criterion; empty if it was not reached
   */
  public Optional<Crossing> crossing() {
    return crossing;
  }

  /**
   * The highest voltage that was tested.
   *
   * @return V
   */
  public double highestV() {
    return loads.stream().mapToDouble(l -> Math.abs(voltage(l))).max().orElseThrow();
  }

  /**
   * Whether a drift during the sweep was fitted beside the slope.
   *
   * @return true if a time term was fitted
   */
  public boolean timeTerm() {
    return line.timeTerm();
  }

  /**
   * What a reader must know.
   *
   * @return whole sentences
   */
  public List<String> notes() {
    return List.copyOf(notes);
  }
}
