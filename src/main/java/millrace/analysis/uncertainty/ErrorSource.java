// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ErrorDistribution;

/**
 * One elementary error, independent of every other: the same source means the same error, fully
 * correlated wherever it enters (methods.md 2.3; JCGM 100:2008, 5.1.2 and F.1.2.3).
 *
 * @param component what the error comes from, for example {@code meter gain}
 * @param group what it is shared by: run; instrument and range; zero; temperature step; point
 * @param instance which one of the group, for example the key of a point
 * @param distribution its shape
 * @param degreesOfFreedom how well its size is known, above 0; empty means infinitely well
 * @param value its standard uncertainty in its own unit, 0 or more
 * @param unit the unit of value
 * @param pool which estimate its size comes from: sources of one pool were sized together (a pooled
 *     standard deviation), so their degrees of freedom count once
 * @param noise what stands in place of such errors together; empty where each is by itself
 */
public record ErrorSource(
    String component,
    String group,
    String instance,
    ErrorDistribution distribution,
    OptionalDouble degreesOfFreedom,
    double value,
    String unit,
    String pool,
    Optional<CorrelatedNoise> noise)
    implements Comparable<ErrorSource> {

  /** The group of errors that each point has for itself. */
  public static final String POINT = "point";

  /** The group of errors that one run has. */
  public static final String RUN = "run";

  /** The group of errors that an instrument has in one of its ranges. */
  public static final String INSTRUMENT_AND_RANGE = "instrument and range";

  /** The group of errors that last until the next zero reading. */
  public static final String ZERO = "zero";

  /** The group of errors that one stay at a temperature has. */
  public static final String TEMPERATURE_STEP = "temperature step";

  /** Checks the size and how well it is known. */
  public ErrorSource {
    if (!(value >= 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "component '%s' has a standard uncertainty of %s; expected 0 or more and finite"
              .formatted(component, value));
    }
    if (degreesOfFreedom.isPresent() && !(degreesOfFreedom.getAsDouble() > 0)) {
      throw new IllegalArgumentException(
          "component '%s' has %s degrees of freedom; expected above 0"
              .formatted(component, degreesOfFreedom.getAsDouble()));
    }
  }

  /**
   * A source that was sized together with all others of its component and group.
   *
   * @param component what the error comes from
   * @param group what it is shared by
   * @param instance which one of the group
   * @param distribution its shape
   * @param degreesOfFreedom how well its size is known; empty means infinitely well
   * @param value its standard uncertainty in its own unit, 0 or more
   * @param unit the unit of value
   */
  public ErrorSource(
      String component,
      String group,
      String instance,
      ErrorDistribution distribution,
      OptionalDouble degreesOfFreedom,
      double value,
      String unit) {
    this(component, group, instance, distribution, degreesOfFreedom, value, unit, "");
  }

  /**
   * A source that is independent of every other.
   *
   * @param component what the error comes from
   * @param group what it is shared by
   * @param instance which one of the group
   * @param distribution its shape
   * @param degreesOfFreedom how well its size is known; empty means infinitely well
   * @param value its standard uncertainty in its own unit, 0 or more
   * @param unit the unit of value
   * @param pool which estimate its size comes from
   */
  public ErrorSource(
      String component,
      String group,
      String instance,
      ErrorDistribution distribution,
      OptionalDouble degreesOfFreedom,
      double value,
      String unit,
      String pool) {
    this(
        component,
        group,
        instance,
        distribution,
        degreesOfFreedom,
        value,
        unit,
        pool,
        Optional.empty());
  }

  /**
   * A normal error whose size is known.
   *
   * @param component what the error comes from
   * @param group what it is shared by
   * @param instance which one of the group
   * @param value its standard uncertainty, 0 or more
   * @param unit the unit of value
   * @return the source
   */
  public static ErrorSource normal(
      String component, String group, String instance, double value, String unit) {
    return new ErrorSource(
        component, group, instance, ErrorDistribution.NORMAL, OptionalDouble.empty(), value, unit);
  }

  /**
   * An error that is known to lie within limits, all equally likely (JCGM 100:2008, 4.3.7: u =
   * a/sqrt 3).
   *
   * @param component what the error comes from
   * @param group what it is shared by
   * @param instance which one of the group
   * @param halfWidth a, 0 or more
   * @param unit the unit of a
   * @return the source
   */
  public static ErrorSource within(
      String component, String group, String instance, double halfWidth, String unit) {
    return new ErrorSource(
        component,
        group,
        instance,
        ErrorDistribution.RECTANGULAR,
        OptionalDouble.empty(),
        halfWidth / Math.sqrt(3),
        unit);
  }

  /**
   * This source as one whose size was estimated by itself or with some others only.
   *
   * @param degrees of freedom of that estimate, above 0; empty for infinite
   * @param name what the estimate is called
   * @return the source
   */
  public ErrorSource sizedBy(OptionalDouble degrees, String name) {
    return new ErrorSource(
        component, group, instance, distribution, degrees, value, unit, name, noise);
  }

  /**
   * This source as one of many that are noise of one kind.
   *
   * @param shared what stands in their place
   * @return the source
   */
  public ErrorSource sharing(CorrelatedNoise shared) {
    return new ErrorSource(
        component,
        group,
        instance,
        distribution,
        degreesOfFreedom,
        value,
        unit,
        pool,
        Optional.of(shared));
  }

  /**
   * The same kind of error in another run: that of an instrument is the same one, all others are
   * new.
   *
   * @param name tells the runs apart
   * @return the source
   */
  public ErrorSource inRun(String name) {
    return group.equals(INSTRUMENT_AND_RANGE) ? this : of(instance + ", " + name);
  }

  /**
   * The same kind of error elsewhere, independent of this one.
   *
   * @param otherInstance which one of the group
   * @return the source
   */
  public ErrorSource of(String otherInstance) {
    return new ErrorSource(
        component, group, otherInstance, distribution, degreesOfFreedom, value, unit, pool, noise);
  }

  /**
   * Tells whether the error belongs to one point alone.
   *
   * @return true in group {@link #POINT}
   */
  public boolean pointWise() {
    return group.equals(POINT);
  }

  /** By instance first, in which the sources of a long sweep differ. */
  @Override
  public int compareTo(ErrorSource other) {
    if (this == other) {
      return 0;
    }
    int order = instance.compareTo(other.instance);
    order = order != 0 ? order : component.compareTo(other.component);
    order = order != 0 ? order : group.compareTo(other.group);
    order = order != 0 ? order : unit.compareTo(other.unit);
    order = order != 0 ? order : Double.compare(value, other.value);
    order = order != 0 ? order : pool.compareTo(other.pool);
    order = order != 0 ? order : distribution.compareTo(other.distribution);
    return order != 0 ? order : Double.compare(infinitely(), other.infinitely());
  }

  private double infinitely() {
    return degreesOfFreedom.orElse(Double.POSITIVE_INFINITY);
  }

  /** Of what tells sources apart; the rest seldom does. */
  @Override
  public int hashCode() {
    return 31 * instance.hashCode() + component.hashCode();
  }
}
