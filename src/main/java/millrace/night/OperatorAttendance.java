// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import millrace.logbook.RunStart;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.RunObserver;
import millrace.run.control.StopRequest;

/**
 * The people at a run.
 *
 * @param people names for the logbook
 * @param operator answers questions
 * @param observers receive events
 * @param stop ends the run early
 * @param cautions the cautions that a person confirmed before the run, for the logbook
 */
public record OperatorAttendance(
    RunStart.People people,
    OperatorPrompt operator,
    List<RunObserver> observers,
    StopRequest stop,
    List<String> cautions) {}
