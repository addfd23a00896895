// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.util.Optional;
import millrace.watch.bench.WatchedBench;
import millrace.watch.guard.RequestGuard;
import millrace.watch.live.LiveRuns;
import millrace.watch.live.OwnFaults;
import millrace.watch.live.RunRequests;
import millrace.watch.shift.ShiftState;

/** The inputs of the answers. */
record WatchParts(
    RequestGuard guard,
    WatchPages pages,
    LiveRuns runs,
    RunRequests requests,
    EventStreams streams,
    Optional<WatchedBench> bench,
    Optional<ShiftState> shift,
    boolean readOnly,
    OwnFaults faults) {}
