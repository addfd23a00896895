// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.design.Deviation.Kind;

/**
 * The parts of a design and every way in which a built unit can deviate from it (methods.md 9 and
 * 10). What the deviations do to a range is in {@link RangeModel}.
 *
 * <p>Immutable and thread-safe.
 */
public final class Circuit {
  private final double referenceDegC;
  private final List<RangeModel> ranges;
  private final List<Deviation> deviations = new ArrayList<>();
  private final Map<String, Integer> index = new LinkedHashMap<>();
  private final Assumptions assumptions;

  /**
   * A circuit.
   *
   * @param referenceDegC T_ref, degC
   * @param ranges its ranges, at least one, names distinct
   * @param assumptions spreads that the parts do not state
   */
  public Circuit(double referenceDegC, List<RangeDesign> ranges, Assumptions assumptions) {
    this.referenceDegC = referenceDegC;
    this.assumptions = assumptions;
    if (ranges.isEmpty()
        || ranges.stream().map(RangeDesign::name).distinct().count() < ranges.size()) {
      throw new IllegalArgumentException("a circuit has one range or more, each named once");
    }
    ranges.forEach(this::collect);
    this.ranges = ranges.stream().map(r -> new RangeModel(this, r)).toList();
  }

  private void collect(RangeDesign r) {
    add(Kind.REFERENCE, r.reference().name(), r.reference().tolerance());
    add(Kind.REFERENCE_TEMPCO, r.reference().name(), r.reference().tempcoPerK());
    add(Kind.REFERENCE_CURVATURE, r.reference().name(), Assumptions.curvature(r.reference()));
    r.resistors().forEach(this::collect);
    r.firstStage().flatMap(Piece.FirstStage::amplifier).ifPresent(this::collect);
    r.amplifier().ifPresent(this::collect);
    r.passDevice().ifPresent(this::collect);
    add(Kind.PASS_DROP, r.passName(), assumptions.pass().dropV(r));
    r.leakage()
        .ifPresent(l -> add(Kind.LEAKAGE, l.name(), assumptions.leakage() / l.resistanceOhm()));
    r.series()
        .forEach(d -> add(Kind.SERIES_DROP, d.name(), assumptions.seriesDrop() * d.voltageV()));
    r.supply().ifPresent(s -> add(Kind.SUPPLY, s.name(), assumptions.supply() * s.voltageV()));
  }

  /** A ratio within a network stays within its tracking figure: half of it for each resistor. */
  private void collect(Piece.Resistor r) {
    double own = r.network().map(n -> n.trackingTolerance() / 2).orElse(r.tolerance());
    double ownTempco = r.network().map(n -> n.trackingTempcoPerK() / 2).orElse(r.tempcoPerK());
    double curvature = Assumptions.curvature(r);
    double ownCurvature = curvature * Assumptions.ownShare(r, ownTempco);
    r.network()
        .ifPresent(
            n -> {
              add(Kind.NETWORK, n.name(), Math.max(0, r.tolerance() - own));
              add(Kind.NETWORK_TEMPCO, n.name(), Math.max(0, r.tempcoPerK() - ownTempco));
              add(Kind.NETWORK_CURVATURE, n.name(), curvature - ownCurvature);
            });
    add(Kind.RESISTOR, r.name(), own);
    add(Kind.RESISTOR_TEMPCO, r.name(), ownTempco);
    add(Kind.RESISTOR_CURVATURE, r.name(), ownCurvature);
  }

  private void collect(Piece.Amplifier a) {
    add(Kind.OFFSET, a.name(), a.offsetV());
    add(Kind.DRIFT, a.name(), a.driftVPerK());
    add(Kind.BIAS, a.name(), a.biasA());
    add(Kind.INVERSE_GAIN, a.name(), assumptions.gain() / a.gain());
  }

  private void collect(Piece.PassDevice q) {
    add(Kind.OWN_GAIN, q.name(), assumptions.pass().gainSpread(q));
    if (q.beta().isPresent()) {
      double b = q.beta().get();
      add(Kind.BASE_LOSS, q.name(), assumptions.beta() * b * q.loss() * q.loss());
      add(Kind.BASE_PER_V, q.name(), assumptions.pass().perVSpread());
      add(Kind.BASE_PER_K, q.name(), assumptions.pass().perKSpread());
    } else {
      add(Kind.GATE_LEAKAGE, q.name(), q.gateLeakageA());
    }
  }

  private void add(Kind kind, String of, double halfWidth) {
    Integer known = index.putIfAbsent(kind + " " + of, deviations.size());
    if (known == null) {
      deviations.add(new Deviation(kind, of, halfWidth));
    } else if (deviations.get(known).halfWidth() < halfWidth) {
      deviations.set(known, new Deviation(kind, of, halfWidth));
    }
  }

  /**
   * The reference temperature.
   *
   * @return T_ref, degC
   */
  public double referenceDegC() {
    return referenceDegC;
  }

  /**
   * The ranges.
   *
   * @return in the order given
   */
  public List<RangeModel> ranges() {
    return ranges;
  }

  /**
   * One range.
   *
   * @param name its name
   * @return the range; empty if there is none of this name
   */
  public Optional<RangeModel> range(String name) {
    return ranges.stream().filter(r -> r.design().name().equals(name)).findFirst();
  }

  /**
   * What was assumed of spreads.
   *
   * @return the assumptions
   */
  public Assumptions assumptions() {
    return assumptions;
  }

  /**
   * Every way in which a unit can deviate.
   *
   * @return in a fixed order: the order of the values that {@link RangeModel} takes
   */
  public List<Deviation> deviations() {
    return List.copyOf(deviations);
  }

  /**
   * The place of a deviation.
   *
   * @param kind what deviates
   * @param of the part or network
   * @return its index; -1 if the circuit has no such thing
   */
  public int indexOf(Kind kind, String of) {
    return index.getOrDefault(kind + " " + of, -1);
  }

  /** The same, for a part that may be absent. */
  int indexOf(Kind kind, Optional<? extends Piece> of) {
    return of.map(p -> indexOf(kind, p.name())).orElse(-1);
  }
}
