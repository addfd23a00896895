package millrace.analysis.load;

import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * One point of a load sweep.
 *
 * @param key its name
 * @param voltageV voltage at the unit's terminals, V
 * @param currentA current out of the unit, A
 * @param loadOhm what the load was set to, ohm; empty where only the voltage is known
 * @param timeS when, s
 */
public record LoadPoint(
    String key, Estimate voltageV, Estimate currentA, OptionalDouble loadOhm, double timeS) {}
