// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.cert.X509Certificate;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManager;
import javax.net.ssl.X509TrustManager;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.watch.bench.WatchedBench;
import millrace.watch.guard.AccessToken;
import millrace.watch.guard.KeyStoreFile;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Attacks from outside, over bare sockets: what a browser would never send is sent, too. */
@Timeout(120)
class WatchServerIT {
  private static final String EVIL = "<img src=x onerror=alert(1)>";

  @TempDir private Path folder;
  private Path book;
  private final List<Throwable> faults = new CopyOnWriteArrayList<>();
  @AutoClose private WatchServer server;
  private int port;

  @BeforeEach
  void begin() {
    book = folder.resolve("night.db");
    try (Logbook logbook = Logbook.openOrCreate(book)) {
      RunStart.People people =
          new RunStart.People(Optional.of(EVIL), Optional.of(EVIL), Optional.of("'\"" + EVIL));
      logbook
          .begin(
              new RunStart(
                  "SN" + EVIL,
                  RunOrigin.IMPORTED,
                  "sequence " + EVIL,
                  people,
                  Optional.empty(),
                  "test",
                  Instant.parse("2026-03-01T20:00:00Z"),
                  ZoneOffset.UTC,
                  RunFacts.NONE))
          .close();
    }
    serve(false, Optional.empty(), Optional.empty());
  }

  /** A bench whose words are as bad as can be, and whose meter is nowhere. */
  private Optional<WatchedBench> bench() {
    try {
      Path file =
          Files.writeString(
              book.resolveSibling("bad.bench.yaml"),
              """
              bench: '%s'
              simulated: yes
              instruments:
                meter:
                  driver: scpi meter
                  address: tcp 127.0.0.1:9
                  certificate: {laboratory: '%s', number: '%s', due: 2001-02-03}
                  roles:
                    current meter: {}
              """
                  .formatted(EVIL, EVIL, EVIL));
      return Optional.of(new WatchedBench(file, Path.of("drivers"), book.getParent()));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void serve(boolean readOnly, Optional<AccessToken> token, Optional<SSLContext> tls) {
    if (server != null) {
      server.close();
    }
    server =
        WatchServer.start(
            new WatchServer.Settings(
                LogbookPlace.of(book),
                bench(),
                Optional.empty(),
                InetAddress.getLoopbackAddress(),
                0,
                readOnly,
                token,
                tls),
            faults::add);
    port = Integer.parseInt(server.address().replaceAll(".*:", ""));
  }

  private String host() {
    return "Host: localhost:" + port;
  }

  private String origin() {
    return "Origin: " + server.address();
  }

  /** Sends a request as it stands, and reads to the end of the connection. */
  private String sent(String first, String body, String... headers) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
      return said(socket, first, body, headers);
    }
  }

  private static String said(Socket socket, String first, String body, String... headers)
      throws IOException {
    StringBuilder text = new StringBuilder(first + " HTTP/1.1\r\nConnection: close\r\n");
    for (String header : headers) {
      text.append(header).append("\r\n");
    }
    if (!body.isEmpty()) {
      text.append("Content-Type: application/x-www-form-urlencoded\r\n");
      text.append("Content-Length: ").append(body.length()).append("\r\n");
    }
    socket.getOutputStream().write((text + "\r\n" + body).getBytes(StandardCharsets.UTF_8));
    return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
  }

  private static int status(String answer) {
    return Integer.parseInt(answer.split(" ", 3)[1]);
  }

  private String pageToken() throws IOException {
    String answer = sent("GET /page-token", "", host());
    return answer.substring(answer.lastIndexOf("\r\n\r\n") + 4).strip();
  }

  @Test
  void aNameThatWasMadeToLeadHereIsRefused() throws IOException {
    assertEquals(421, status(sent("GET /", "", "Host: night.example.org:" + port)));
    assertEquals(421, status(sent("GET /page-token", "", "Host: localhost.example.org:" + port)));
    assertEquals(421, status(sent("GET /", "", "Host: localhost:1")));
    assertEquals(200, status(sent("GET /", "", host())));
  }

  @Test
  void aPageOfAnotherSiteCanNeitherReadNorChange() throws IOException {
    String note = "page-token=" + pageToken() + "&what=note&text=x&author=y";
    assertEquals(403, status(sent("POST /run/1/ask", note, host())));
    assertEquals(403, status(sent("POST /run/1/ask", note, host(), "Origin: http://evil.example")));
    assertEquals(403, status(sent("POST /run/1/ask", note, host(), "Origin: null")));
    assertEquals(403, status(sent("GET /page-token", "", host(), "Origin: http://evil.example")));
    assertEquals(403, status(sent("GET /page-token", "", host(), "Sec-Fetch-Site: cross-site")));
    assertTrue(remarks().isEmpty());
    assertEquals(200, status(sent("POST /run/1/ask", note, host(), origin())));
    assertEquals(1, remarks().size());
  }

  private List<String> remarks() {
    try (Logbook logbook = Logbook.readOnly(book)) {
      return logbook.reader(1).remarks().stream().map(r -> r.text()).toList();
    }
  }

  @Test
  void aChangeWithoutTheTokenOfThePageIsRefused() throws IOException {
    String wrong = "page-token=0000&what=note&text=x&author=y";
    assertEquals(409, status(sent("POST /run/1/ask", wrong, host(), origin())));
    assertEquals(
        409, status(sent("POST /run/1/ask", "what=note&text=x&author=y", host(), origin())));
    assertTrue(remarks().isEmpty());
  }

  @Test
  void nothingIsChangedByLookingAndNothingWhereItIsOnlyToBeRead() throws IOException {
    String form = "page-token=" + pageToken() + "&what=note&text=x&author=y";
    assertEquals(404, status(sent("GET /run/1/ask?" + form, "", host())));
    assertEquals(405, status(sent("DELETE /run/1", "", host(), origin())));
    serve(true, Optional.empty(), Optional.empty());
    String token = "page-token=" + pageToken() + "&what=note&text=x&author=y";
    assertEquals(403, status(sent("POST /run/1/ask", token, host(), origin())));
    assertFalse(sent("GET /run/1", "", host()).contains("<form"));
    assertTrue(remarks().isEmpty());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/../../../../etc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/..%2f..%2fetc%2fpasswd",
        "/style.css/../../etc/passwd",
        "//etc/passwd",
        "/run/1/../../night.db",
        "/night.db",
        "/run/1%00",
        "/run/-1",
        "/run/99999999999999999999",
        "/run/7",
        "/report.css",
        "/millrace/watch/page/page.js"
      })
  void noPathLeadsToAFile(String path) throws IOException {
    String answer = sent("GET " + path, "", host());
    assertTrue(List.of(400, 404).contains(status(answer)), answer);
    assertFalse(answer.contains("root:"), answer);
    assertFalse(answer.contains("SQLite format"), answer);
  }

  @Test
  void whatComesFromOutsideIsShownAsItIsAndNeverRun() throws IOException {
    String form =
        "page-token=" + pageToken() + "&what=note&text=%3Cscript%3Ealert(1)%3C/script%3E&author=y";
    assertEquals(200, status(sent("POST /run/1/ask", form, host(), origin())));
    String evil = "%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E";
    for (String path :
        List.of(
            "/",
            "/run/1",
            "/?unit=" + evil,
            "/?instrument=%22%3E" + evil,
            "/compare?run=" + evil + "&run=2")) {
      String answer = sent("GET " + path, "", host());
      assertFalse(answer.contains("<img"), answer);
      assertFalse(answer.contains("<script>"), answer);
      assertTrue(path.contains("compare") || answer.contains("&lt;img"), answer);
    }
  }

  @Test
  void everyAnswerForbidsForeignScriptFramesAndGuessing() throws IOException {
    for (String path : List.of("/", "/run/1", "/page.js", "/nowhere", "/page-token")) {
      String head =
          sent("GET " + path, "", host()).split("\r\n\r\n")[0].toLowerCase(java.util.Locale.ROOT);
      assertTrue(head.contains("content-security-policy: default-src 'none'"), head);
      assertTrue(head.contains("frame-ancestors 'none'"), head);
      assertFalse(head.contains("unsafe-"), head);
      assertTrue(head.contains("x-content-type-options: nosniff"), head);
      assertFalse(head.contains("access-control-allow"), head);
    }
  }

  @Test
  void aBenchFileCannotSpeakHtmlAndItsCheckWantsTheTokenOfThePage() throws IOException {
    String page = sent("GET /bench", "", host());
    assertEquals(200, status(page));
    assertFalse(page.contains(EVIL), page);
    assertTrue(page.contains("1 certificate overdue, not checked from here"), page);
    assertEquals(409, status(sent("POST /bench/check", "what=check", host(), origin())));
    String token = "what=check&page-token=" + pageToken();
    assertEquals(403, status(sent("POST /bench/check", token, host(), "Origin: http://evil.test")));
    assertEquals(200, status(sent("POST /bench/check", token, host(), origin())));
    String checked = sent("GET /bench", "", host());
    assertTrue(checked.contains("last check: 1 without an answer"), checked);
    assertFalse(checked.contains(EVIL), checked);
    serve(true, Optional.empty(), Optional.empty());
    assertEquals(403, status(sent("POST /bench/check", token, host(), origin())));
    assertFalse(sent("GET /bench", "", host()).contains("<button"), "nothing to press");
  }

  @Test
  void tooMuchAndTooOftenIsRefused() throws IOException {
    String large = "page-token=" + pageToken() + "&what=note&author=y&text=" + "x".repeat(20_000);
    assertEquals(413, status(sent("POST /run/1/ask", large, host(), origin())));
    assertEquals(414, status(sent("GET /?text=" + "x".repeat(9000), "", host())));
    int refused = 0;
    for (int i = 0; i < 30; i++) {
      String form = "page-token=x&what=note&author=y&text=x";
      refused += status(sent("POST /run/1/ask", form, host(), origin())) == 429 ? 1 : 0;
    }
    assertTrue(refused > 10, refused + " of 30 changes were refused");
    List<Integer> statuses = new ArrayList<>();
    for (int i = 0; i < 400; i++) {
      statuses.add(status(sent("GET /icon.svg", "", host())));
    }
    assertTrue(statuses.contains(429), statuses::toString);
  }

  @Test
  void whoSaysNothingKeepsNobodyWaiting() throws IOException {
    List<Socket> silent = new ArrayList<>();
    try {
      for (int i = 0; i < 60; i++) {
        Socket socket = new Socket(InetAddress.getLoopbackAddress(), port);
        socket.getOutputStream().write("GET / HT".getBytes(StandardCharsets.UTF_8));
        silent.add(socket);
      }
      assertEquals(200, status(sent("GET /", "", host())));
    } finally {
      for (Socket socket : silent) {
        socket.close();
      }
    }
  }

  @Test
  void whoReadsNothingOfItsEventsHoldsUpNobodyAndPlacesAreCounted() throws IOException {
    List<Socket> idle = new ArrayList<>();
    try {
      for (int i = 0; i < 48; i++) {
        Socket socket = new Socket(InetAddress.getLoopbackAddress(), port);
        String ask = "GET /run/1/events HTTP/1.1\r\n" + host() + "\r\n\r\n";
        socket.getOutputStream().write(ask.getBytes(StandardCharsets.UTF_8));
        assertEquals('H', socket.getInputStream().read(), "it is answered");
        idle.add(socket);
      }
      String oneMore = sent("GET /run/1/events", "", host());
      assertEquals(503, status(oneMore));
      assertTrue(oneMore.contains("Too many watch already"), oneMore);
      assertEquals(200, status(sent("GET /", "", host())));
    } finally {
      for (Socket socket : idle) {
        socket.close();
      }
    }
  }

  @Test
  void noOtherMachineReachesItUnlessItIsToldTo() throws IOException {
    List<InetAddress> others =
        NetworkInterface.networkInterfaces()
            .flatMap(NetworkInterface::inetAddresses)
            .filter(a -> !a.isLoopbackAddress() && !a.isLinkLocalAddress())
            .toList();
    Assumptions.assumeFalse(others.isEmpty(), "this machine has no address that others reach");
    for (InetAddress address : others) {
      assertThrows(IOException.class, () -> new Socket(address, port).close(), address::toString);
    }
  }

  @Test
  void otherMachinesReachItWithTokenAndTlsOnly() throws Exception {
    InetAddress all = InetAddress.getByName("0.0.0.0");
    Optional<AccessToken> token = Optional.of(AccessToken.in(folder.resolve("token")));
    BadInputException none =
        assertThrows(
            BadInputException.class,
            () ->
                new WatchServer.Settings(
                    LogbookPlace.of(book),
                    Optional.empty(),
                    Optional.empty(),
                    all,
                    0,
                    false,
                    Optional.empty(),
                    Optional.empty()));
    assertEquals(
        "--listen 0.0.0.0: other machines would reach it without a token; expected --token-file and"
            + " --key-store with it. Give both, or leave --listen out: then only this machine"
            + " reaches it.",
        none.getMessage());
    assertThrows(
        BadInputException.class,
        () ->
            new WatchServer.Settings(
                LogbookPlace.of(book),
                Optional.empty(),
                Optional.empty(),
                all,
                0,
                false,
                token,
                Optional.empty()));
  }

  @Test
  void aTokenIsKeptFromOthersAndWantedOverTls() throws Exception {
    Path file = folder.resolve("token");
    AccessToken token = AccessToken.in(file);
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    serve(false, Optional.of(token), Optional.of(KeyStoreFile.open(keys(), "secret-of-a-test")));
    assertTrue(server.address().startsWith("https://"), server.address());

    assertEquals(401, status(overTls("GET /", "")));
    assertEquals(401, status(overTls("GET /run/1/events", "")));
    assertEquals(401, status(overTls("GET /enter?token=wrong", "")));
    String entered = overTls("GET " + token.entrance(), "");
    assertEquals(303, status(entered));
    String cookie =
        entered
            .lines()
            .filter(l -> l.toLowerCase(java.util.Locale.ROOT).startsWith("set-cookie:"))
            .findFirst()
            .orElseThrow();
    assertTrue(cookie.contains("HttpOnly; SameSite=Strict"), cookie);
    assertTrue(cookie.contains("Secure"), cookie);
    assertFalse(cookie.contains(token.entrance().substring(13)), cookie);
    String kept = "Cookie: " + cookie.substring(12).split(";")[0];
    assertEquals(200, status(overTls("GET /", kept)));
    for (int i = 0; i < 8; i++) {
      overTls("GET /enter?token=wrong" + i, "");
    }
    assertEquals(401, status(overTls("GET " + token.entrance(), "")), "too many wrong ones");
    assertEquals(200, status(overTls("GET /", kept)));
  }

  @Test
  void aTokenFileThatOthersMayReadIsRefused() throws IOException {
    Path file = folder.resolve("shared");
    Files.writeString(file, "a-token-that-is-long-enough-to-be-one-of-ours\n");
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-r--r--"));
    BadInputException e = assertThrows(BadInputException.class, () -> AccessToken.in(file));
    assertTrue(e.getMessage().contains("other users may read or write it"), e.getMessage());
  }

  private Path keys() throws Exception {
    Path store = folder.resolve("keys.p12");
    Process made =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "keytool").toString(),
                "-genkeypair",
                "-keyalg",
                "EC",
                "-alias",
                "watch",
                "-dname",
                "CN=localhost",
                "-storetype",
                "PKCS12",
                "-storepass",
                "secret-of-a-test",
                "-keystore",
                store.toString())
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("keytool.txt").toFile())
            .start();
    assertEquals(0, made.waitFor());
    return store;
  }

  private String overTls(String first, String cookie) throws Exception {
    TrustManager any =
        new X509TrustManager() {
          @Override
          public void checkClientTrusted(X509Certificate[] chain, String type) {}

          @Override
          public void checkServerTrusted(X509Certificate[] chain, String type) {}

          @Override
          public X509Certificate[] getAcceptedIssuers() {
            return new X509Certificate[0];
          }
        };
    SSLContext context = SSLContext.getInstance("TLS");
    context.init(null, new TrustManager[] {any}, null);
    try (Socket socket =
        context.getSocketFactory().createSocket(InetAddress.getLoopbackAddress(), port)) {
      return cookie.isEmpty()
          ? said(socket, first, "", host())
          : said(socket, first, "", host(), cookie);
    }
  }
}
