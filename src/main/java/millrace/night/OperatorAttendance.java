// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import millrace.logbook.RunStart;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.RunObserver;
import millrace.run.control.StopRequest;

/**
 * Who is there.
 *
 * @param people names for the logbook
 * @param operator who answers questions
 * @param observers who is told
 * @param stop through which the run is ended early
 * @param cautions what a person confirmed before the run, for the logbook
 */
public record OperatorAttendance(
    RunStart.People people,
    OperatorPrompt operator,
    List<RunObserver> observers,
    StopRequest stop,
    List<String> cautions) {}
