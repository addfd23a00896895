package millrace.analysis.load;

import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * What is asked of a load sweep.
 *
 * @param range the range
 * @param nominalA I_N, A, not 0
 * @param complianceV the datasheet's compliance voltage, V; empty if none is promised
 * @param criterion d, by which ratio the current has fallen at the compliance voltage
 * @param fromLine true if the fall is counted from the plateau line, false: from the short
 * @param referenceOhm the load at which the current is promised, ohm
 * @param fixtureS conductance of the fixture, S
 * @param temperatureDegC temperature of the sweep, degC; empty if not known
 * @param coverage probability of intervals
 */
public record LoadQuestion(
    String range,
    double nominalA,
    OptionalDouble complianceV,
    double criterion,
    boolean fromLine,
    double referenceOhm,
    Estimate fixtureS,
    OptionalDouble temperatureDegC,
    double coverage) {}
