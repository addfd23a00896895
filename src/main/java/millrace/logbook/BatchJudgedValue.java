// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import millrace.evidence.ConditionBox;
import millrace.evidence.ResultQuantity;

/**
 * A judged value of a unit of a batch, as it was judged last.
 *
 * @param run the run that it was measured in
 * @param startedAt when that run began
 * @param unit serial number of the unit
 * @param quantity what was limited
 * @param range the range; empty for what is unit-wide
 * @param when the conditions of the limit
 * @param value in the unit of the quantity
 * @param standardUncertainty in the unit of the quantity, above 0
 */
public record BatchJudgedValue(
    UUID run,
    Instant startedAt,
    String unit,
    ResultQuantity quantity,
    Optional<String> range,
    ConditionBox when,
    double value,
    double standardUncertainty) {}
