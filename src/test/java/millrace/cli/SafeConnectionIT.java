// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import millrace.PostgresServer;
import millrace.logbook.BenchRuns;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A store whose server shows a certificate: whether it is the right one is looked at. */
@Timeout(300)
class SafeConnectionIT {
  private final PostgresServer server = PostgresServer.get();
  private final String store = server.store();
  @TempDir private Path folder;

  @AfterEach
  void asBefore() {
    server.insecure();
  }

  private Spoken published(String options) {
    String book = folder.resolve("a.db").toString();
    if (!Files.exists(Path.of(book))) {
      BenchRuns.write(Path.of(book), 1, 1);
    }
    return Spoken.by("publish", "--all", "--to", store + options, "--logbook", book);
  }

  private void refused(String options, String expected) {
    Spoken said = published(options);
    assertEquals(5, said.code(), said.err());
    assertEquals(1, said.err().lines().count(), said.err());
    assertTrue(said.err().contains(expected), said.err());
    assertTrue(!said.err().contains("java."), said.err());
  }

  @Test
  void theServerThatShowsTheRightCertificateIsBelieved() {
    Path root = server.secure("ip:127.0.0.1");
    Spoken said = published("&sslmode=verify-full&sslrootcert=" + root);
    assertEquals(0, said.code(), said.err());
    assertEquals(
        "1",
        server.sql(store.replaceAll(".*/|[?].*", ""), "SELECT count(*) FROM millrace.run").strip());
  }

  @Test
  void aCertificateThatNobodyVouchesForIsRefused() {
    Path other = server.secure("ip:127.0.0.1");
    server.secure("ip:127.0.0.1");
    refused(
        "&sslmode=verify-full&sslrootcert=" + other,
        "the server shows a certificate that is not trusted here");
  }

  @Test
  void aCertificateOfAnotherHostIsRefused() {
    Path root = server.secure("dns:other.lab");
    refused(
        "&sslmode=verify-full&sslrootcert=" + root,
        "the server shows a certificate of another host");
  }

  @Test
  void aCertificateThatHasRunOutIsRefused() {
    Path root = server.secureUntilTenDaysAgo("ip:127.0.0.1");
    refused(
        "&sslmode=verify-full&sslrootcert=" + root,
        "the server's certificate has run out, or does not count yet");
  }

  @Test
  void aMissingFileOfWhatIsTrustedIsNamed() {
    server.secure("ip:127.0.0.1");
    Path none = folder.resolve("none.pem");
    refused(
        "&sslmode=verify-full&sslrootcert=" + none,
        "no safe connection (TLS) came about (Could not open SSL root certificate file " + none);
  }
}
