package millrace.logbook;

import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One judging of a run: results of another basis stand beside, results of the same basis are
 * replaced.
 *
 * @param basis what the results rest on, such as a hash over file hashes, version and remarks
 * @param madeAt wall clock
 * @param millrace the version that computed
 * @param datasheetSha256 the datasheet, a file that the logbook keeps
 * @param referenceTemperatureDegC T_ref, degC
 * @param reason why the run was judged (again), in words
 */
public record Evaluation(
    String basis,
    Instant madeAt,
    String millrace,
    Optional<String> datasheetSha256,
    OptionalDouble referenceTemperatureDegC,
    String reason) {}
