// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import java.util.Optional;
import millrace.analysis.design.DesignDeviation.Kind;

/**
 * The parts of a design and every way in which a built unit can deviate from it (methods.md 9 and
 * 10). What the deviations do to a range is in {@link RangeCircuitModel}.
 *
 * <p>Immutable and thread-safe.
 */
public final class DesignCircuit {
  private final double referenceDegC;
  private final List<RangeCircuitModel> ranges;
  private final DeviationIndex deviations = new DeviationIndex();
  private final DesignAssumptions assumptions;

  /**
   * A circuit.
   *
   * @param referenceDegC T_ref, degC
   * @param ranges its ranges, at least one, names distinct
   * @param assumptions spreads that the parts do not state
   */
  public DesignCircuit(
      double referenceDegC, List<RangeDesign> ranges, DesignAssumptions assumptions) {
    this.referenceDegC = referenceDegC;
    this.assumptions = assumptions;
    if (ranges.isEmpty()
        || ranges.stream().map(RangeDesign::name).distinct().count() < ranges.size()) {
      throw new IllegalArgumentException("a circuit has one range or more, each named once");
    }
    ranges.forEach(this::collect);
    this.ranges =
        ranges.stream()
            .map(r -> new RangeCircuitModel(deviations, referenceDegC, assumptions.pass(), r))
            .toList();
  }

  private void collect(RangeDesign r) {
    deviations.add(Kind.REFERENCE, r.reference().name(), r.reference().tolerance());
    deviations.add(Kind.REFERENCE_TEMPCO, r.reference().name(), r.reference().tempcoPerK());
    deviations.add(
        Kind.REFERENCE_CURVATURE, r.reference().name(), DesignAssumptions.curvature(r.reference()));
    r.resistors().forEach(this::collect);
    r.firstStage().flatMap(DesignPart.FirstStage::amplifier).ifPresent(this::collect);
    r.amplifier().ifPresent(this::collect);
    r.passDevice().ifPresent(this::collect);
    deviations.add(Kind.PASS_DROP, r.passName(), assumptions.pass().dropV(r.passDevice()));
    r.leakage()
        .ifPresent(
            l -> deviations.add(Kind.LEAKAGE, l.name(), assumptions.leakage() / l.resistanceOhm()));
    r.series()
        .forEach(
            d ->
                deviations.add(
                    Kind.SERIES_DROP, d.name(), assumptions.seriesDrop() * d.voltageV()));
    r.supply()
        .ifPresent(s -> deviations.add(Kind.SUPPLY, s.name(), assumptions.supply() * s.voltageV()));
  }

  /** A ratio within a network stays within its tracking figure: half of it for each resistor. */
  private void collect(DesignPart.Resistor r) {
    double own = r.network().map(n -> n.trackingTolerance() / 2).orElse(r.tolerance());
    double ownTempco = r.network().map(n -> n.trackingTempcoPerK() / 2).orElse(r.tempcoPerK());
    double curvature = DesignAssumptions.curvature(r);
    double ownCurvature = curvature * DesignAssumptions.ownShare(r, ownTempco);
    r.network()
        .ifPresent(
            n -> {
              deviations.add(Kind.NETWORK, n.name(), Math.max(0, r.tolerance() - own));
              deviations.add(
                  Kind.NETWORK_TEMPCO, n.name(), Math.max(0, r.tempcoPerK() - ownTempco));
              deviations.add(Kind.NETWORK_CURVATURE, n.name(), curvature - ownCurvature);
            });
    deviations.add(Kind.RESISTOR, r.name(), own);
    deviations.add(Kind.RESISTOR_TEMPCO, r.name(), ownTempco);
    deviations.add(Kind.RESISTOR_CURVATURE, r.name(), ownCurvature);
  }

  private void collect(DesignPart.Amplifier a) {
    deviations.add(Kind.OFFSET, a.name(), a.offsetV());
    deviations.add(Kind.DRIFT, a.name(), a.driftVPerK());
    deviations.add(Kind.BIAS, a.name(), a.biasA());
    deviations.add(Kind.INVERSE_GAIN, a.name(), assumptions.gain() / a.gain());
  }

  private void collect(DesignPart.PassDevice q) {
    deviations.add(Kind.OWN_GAIN, q.name(), assumptions.pass().gainSpread(q));
    if (q.beta().isPresent()) {
      double b = q.beta().get();
      deviations.add(Kind.BASE_LOSS, q.name(), assumptions.beta() * b * q.loss() * q.loss());
      deviations.add(Kind.BASE_PER_V, q.name(), assumptions.pass().perVSpread());
      deviations.add(Kind.BASE_PER_K, q.name(), assumptions.pass().perKSpread());
    } else {
      deviations.add(Kind.GATE_LEAKAGE, q.name(), q.gateLeakageA());
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
  public List<RangeCircuitModel> ranges() {
    return ranges;
  }

  /**
   * One range.
   *
   * @param name its name
   * @return the range; empty if there is none of this name
   */
  public Optional<RangeCircuitModel> range(String name) {
    return ranges.stream().filter(r -> r.design().name().equals(name)).findFirst();
  }

  /**
   * What was assumed of spreads.
   *
   * @return the assumptions
   */
  public DesignAssumptions assumptions() {
    return assumptions;
  }

  /**
   * Every way in which a unit can deviate.
   *
   * @return in a fixed order: the order of the values that {@link RangeCircuitModel} takes
   */
  public List<DesignDeviation> deviations() {
    return deviations.all();
  }

  /**
   * The place of a deviation.
   *
   * @param kind what deviates
   * @param of the part or network
   * @return its index; -1 if the circuit has no such thing
   */
  public int indexOf(Kind kind, String of) {
    return deviations.indexOf(kind, of);
  }
}
