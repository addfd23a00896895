// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.OptionalDouble;
import millrace.analysis.load.LoadCurve;

/**
 * One load sweep.
 *
 * @param range the range
 * @param stay number of the stay in the run, from 0
 * @param temperatureDegC mean temperature of the unit, degC; empty if not known
 * @param supplyV supply voltage, V; empty if not set
 * @param curve the sweep
 */
public record LoadSweepStudy(
    String range,
    int stay,
    OptionalDouble temperatureDegC,
    OptionalDouble supplyV,
    LoadCurve curve) {}
