// SPDX-License-Identifier: Apache-2.0
package millrace.planning;

import java.util.List;
import java.util.Optional;

/** How to reduce a component of an uncertainty (common practice, no source). Stateless. */
final class Remedy {
  /** Part of a component's name, and the advice; the first match counts. */
  private static final List<Remedy> ALL =
      List.of(
          new Remedy("slow noise", "a record over time at one temperature, or more visits"),
          new Remedy("meter drift", "a check standard for that range"),
          new Remedy(
              "meter gain",
              "a certificate with a correction for that range of smaller uncertainty, or another"
                  + " meter"),
          new Remedy("meter linearity", "another meter, or one range for both ends"),
          new Remedy("course between", "the temperature that the limit names measured too"),
          new Remedy("noise", "more readings or more line cycles a point"),
          new Remedy("scatter", "more repeats of each load"),
          new Remedy("resolution", "a meter range with finer steps, or more line cycles"),
          new Remedy("zero", "more readings in each zero"),
          new Remedy("thermometer", "a calibrated thermometer at the unit"),
          new Remedy("soak", "a narrower rule for the end of the soak"),
          new Remedy("burden", "a stated burden with its uncertainty, or a shunt"),
          new Remedy("insulation", "guarding, or a measured insulation"),
          new Remedy("fixture", "the fixture's conductance measured with its unit out"),
          new Remedy("leakage", "guarding, or a measured leakage"),
          new Remedy("load", "a voltmeter, or a calibrated load"),
          new Remedy("enclosure", "a finer resolution of the search for the knee"),
          new Remedy("end:", "a finer resolution of the search for the knee"),
          new Remedy("shunt", "a certificate of the shunt"),
          new Remedy("assumed", "the conditions that are assumed measured too"));

  private final String word;
  private final String what;

  private Remedy(String word, String what) {
    this.word = word;
    this.what = what;
  }

  /** The advice for a component, by its name in a budget; empty where none is known. */
  static Optional<String> of(String component) {
    return ALL.stream().filter(r -> component.contains(r.word)).map(r -> r.what).findFirst();
  }
}
