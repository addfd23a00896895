package millrace.assessment;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.HexFormat;
import java.util.OptionalDouble;
import millrace.logbook.Evaluation;
import millrace.logbook.Logbook;

/** Keeps the results of an assessment in the logbook. */
public final class Evaluations {
  private Evaluations() {}

  /**
   * Saves the results: those of the same basis are replaced, those of another stand beside.
   *
   * @param logbook where the run is
   * @param assessment what was found
   * @param version of Millrace
   * @param now wall clock
   */
  public static void save(Logbook logbook, Assessment assessment, String version, Instant now) {
    Basis basis = assessment.basis();
    String sheet = basis.datasheetSha256().orElse("no datasheet");
    Evaluation evaluation =
        new Evaluation(
            hash(version + "\n" + sheet),
            now,
            version,
            basis.datasheetSha256(),
            OptionalDouble.of(basis.referenceDegC()),
            "judged by " + sheet);
    logbook.save(assessment.run().id(), evaluation, assessment.results());
  }

  private static String hash(String text) {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
