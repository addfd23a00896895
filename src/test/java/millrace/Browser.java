// SPDX-License-Identifier: Apache-2.0
package millrace;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;

/**
 * A real browser, Debian's chromium, spoken to by its debugging protocol over a web socket: opens
 * pages, types, takes pictures, and keeps what its console said and which origins it asked.
 */
public final class Browser implements AutoCloseable {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final long WITHIN_MS = 60_000;

  private final Process process;
  private final WebSocket socket;
  private final AtomicInteger number = new AtomicInteger();
  private final Map<Integer, CompletableFuture<JsonNode>> waiting = new ConcurrentHashMap<>();
  private final List<String> complaints = new CopyOnWriteArrayList<>();
  private final List<String> requested = new CopyOnWriteArrayList<>();

  private Browser(Process process, WebSocket socket, Listening listening) {
    this.process = process;
    this.socket = socket;
    listening.browser.complete(this);
  }

  /** Starts one; skipped by name where there is none. */
  public static Browser start(Path folder) throws Exception {
    Needs.program("chromium");
    Path profile = Files.createDirectories(folder.resolve("browser"));
    Process process =
        new ProcessBuilder(
                "chromium",
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--hide-scrollbars",
                "--no-first-run",
                "--ignore-certificate-errors",
                "--remote-debugging-port=0",
                "--user-data-dir=" + profile,
                "about:blank")
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("browser.txt").toFile())
            .start();
    String port = port(profile.resolve("DevToolsActivePort"), process);
    String pages = "http://127.0.0.1:" + port + "/json/list";
    Listening listening = new Listening();
    URI page = URI.create(page(pages));
    WebSocket socket =
        HttpClient.newHttpClient().newWebSocketBuilder().buildAsync(page, listening).get();
    Browser browser = new Browser(process, socket, listening);
    for (String domain : List.of("Page", "Runtime", "Log", "Network")) {
      browser.call(domain + ".enable", Map.of());
    }
    return browser;
  }

  private static String port(Path file, Process process) throws Exception {
    long end = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(WITHIN_MS);
    while (System.nanoTime() < end && process.isAlive()) {
      if (Files.exists(file) && !Files.readString(file).isBlank()) {
        return Files.readAllLines(file).get(0);
      }
      Thread.sleep(50);
    }
    throw new IOException("the browser did not start");
  }

  private static String page(String list) throws Exception {
    try (Stream<JsonNode> nodes = nodes(JSON.readTree(URI.create(list).toURL()))) {
      return nodes
          .filter(n -> n.path("type").asText().equals("page"))
          .map(n -> n.path("webSocketDebuggerUrl").asText())
          .findFirst()
          .orElseThrow();
    }
  }

  private static Stream<JsonNode> nodes(JsonNode array) {
    List<JsonNode> all = new ArrayList<>();
    array.forEach(all::add);
    return all.stream();
  }

  private static final class Listening implements WebSocket.Listener {
    private final CompletableFuture<Browser> browser = new CompletableFuture<>();
    private final StringBuilder text = new StringBuilder();

    @Override
    public CompletionStage<?> onText(WebSocket from, CharSequence data, boolean last) {
      text.append(data);
      if (last) {
        String whole = text.toString();
        text.setLength(0);
        browser.thenAccept(b -> b.heard(whole));
      }
      from.request(1);
      return CompletableFuture.completedFuture(null);
    }
  }

  private void heard(String text) {
    try {
      JsonNode message = JSON.readTree(text);
      if (message.has("id")) {
        waiting.remove(message.get("id").asInt()).complete(message);
        return;
      }
      JsonNode params = message.path("params");
      switch (message.path("method").asText()) {
        case "Network.requestWillBeSent" ->
            requested.add(params.path("request").path("url").asText());
        case "Runtime.exceptionThrown" -> complaints.add(params.toString());
        case "Runtime.consoleAPICalled" -> {
          if (params.path("type").asText().matches("error|warning|assert")) {
            complaints.add(params.toString());
          }
        }
        case "Log.entryAdded" -> {
          if (params.path("entry").path("level").asText().equals("error")) {
            complaints.add(params.path("entry").toString());
          }
        }
        default -> {}
      }
    } catch (IOException e) {
      complaints.add(e.toString());
    }
  }

  private JsonNode call(String method, Map<String, ?> params) throws Exception {
    int id = number.incrementAndGet();
    ObjectNode message = JSON.createObjectNode().put("id", id).put("method", method);
    message.set("params", JSON.valueToTree(params));
    CompletableFuture<JsonNode> answer = new CompletableFuture<>();
    waiting.put(id, answer);
    socket.sendText(JSON.writeValueAsString(message), true).get();
    JsonNode said = answer.get(WITHIN_MS, TimeUnit.MILLISECONDS);
    if (said.has("error")) {
      throw new IOException(method + ": " + said.get("error"));
    }
    return said.path("result");
  }

  /** Opens a page. */
  public void open(String address) throws Exception {
    call("Page.navigate", Map.of("url", address));
    until("document.readyState === 'complete' && location.href !== 'about:blank'");
  }

  /** What a script gives, as text. */
  public String text(String script) throws Exception {
    JsonNode result =
        call(
            "Runtime.evaluate",
            Map.of("expression", script, "returnByValue", true, "awaitPromise", true));
    return result.path("result").path("value").asText();
  }

  /** Waits until a script gives true. */
  public void until(String script) throws Exception {
    until(script, WITHIN_MS);
  }

  /** Waits until a script gives true, so long at most. */
  public void until(String script, long withinMs) throws Exception {
    long end = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(withinMs);
    while (!text("Boolean(" + script + ")").equals("true")) {
      if (System.nanoTime() > end) {
        throw new AssertionError(
            "never so: " + script + "; the page says: " + text("document.body.innerText"));
      }
      Thread.sleep(100);
    }
  }

  /** Presses a key as a person does. */
  public void key(String key) throws Exception {
    Map<String, Integer> codes = Map.of("Enter", 13, "Tab", 9, " ", 32);
    int code = codes.getOrDefault(key, (int) key.charAt(0));
    String typed = key.equals("Enter") ? "\r" : key.equals("Tab") ? "" : key;
    for (String kind : List.of("keyDown", "keyUp")) {
      call(
          "Input.dispatchKeyEvent",
          Map.of(
              "type", kind,
              "key", key,
              "code", key.equals(" ") ? "Space" : key,
              "windowsVirtualKeyCode", code,
              "text", kind.equals("keyDown") ? typed : ""));
    }
  }

  /** Types a text where the focus is. */
  public void type(String text) throws Exception {
    call("Input.insertText", Map.of("text", text));
  }

  /** How large the screen is, and whether it is dark. */
  public void screen(int width, int height, boolean dark) throws Exception {
    call(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", width < 500));
    call(
        "Emulation.setEmulatedMedia",
        Map.of(
            "features",
            List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
  }

  /** Takes a picture of the whole page, for people. */
  public void picture(Path file) throws Exception {
    until("document.documentElement.scrollWidth > 0 && document.body.scrollHeight > 0");
    Files.createDirectories(file.toAbsolutePath().getParent());
    Files.write(file, Base64.getDecoder().decode(shot().path("data").asText()));
  }

  /** A page that is just being laid out has no width for a moment. */
  private JsonNode shot() throws Exception {
    for (int i = 0; ; i++) {
      try {
        return call(
            "Page.captureScreenshot", Map.of("format", "png", "captureBeyondViewport", true));
      } catch (IOException e) {
        if (i == 20 || !String.valueOf(e.getMessage()).contains("0 width")) {
          throw e;
        }
        Thread.sleep(200);
      }
    }
  }

  /** A screen at twice the usual zoom: half as wide in the page's own pixels. */
  public void zoomed(int width, int height) throws Exception {
    call(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width / 2, "height", height / 2, "deviceScaleFactor", 2, "mobile", false));
  }

  /** Prints the page on A4, as a PDF. */
  public void print(Path file) throws Exception {
    JsonNode pdf =
        call(
            "Page.printToPDF",
            Map.of("paperWidth", 8.27, "paperHeight", 11.69, "printBackground", true));
    Files.createDirectories(file.toAbsolutePath().getParent());
    Files.write(file, Base64.getDecoder().decode(pdf.path("data").asText()));
  }

  /**
   * What keeps somebody from reading or using the page, as axe-core finds it: rules of WCAG 2.0 to
   * 2.2, levels A and AA, and good practice.
   */
  public List<String> barriers() throws Exception {
    if (text("typeof axe").equals("undefined")) {
      try (InputStream script = Browser.class.getResourceAsStream("/axe.min.js")) {
        text(new String(script.readAllBytes(), StandardCharsets.UTF_8) + "; typeof axe");
      }
    }
    String found =
        text(
            "axe.run(document, {resultTypes: ['violations']}).then(r => JSON.stringify({passes:"
                + " r.passes.length, found: r.violations.map(v => v.id + ': ' + v.help + ': ' +"
                + " v.nodes.map(n => n.html + ' ' + n.failureSummary).join(' | '))}))");
    JsonNode told = JSON.readTree(found);
    if (told.path("passes").asInt() < 10) {
      throw new AssertionError("axe-core looked at nothing: " + found);
    }
    try (Stream<JsonNode> nodes = nodes(told.path("found"))) {
      return nodes.map(JsonNode::asText).toList();
    }
  }

  /** Bytes of the script's heap and nodes of the page, after garbage is collected. */
  public Map<String, Long> memory() throws Exception {
    call("HeapProfiler.collectGarbage", Map.of());
    call("Performance.enable", Map.of());
    Map<String, Long> found = new java.util.TreeMap<>();
    try (Stream<JsonNode> metrics =
        nodes(call("Performance.getMetrics", Map.of()).path("metrics"))) {
      metrics
          .filter(m -> List.of("JSHeapUsedSize", "Nodes").contains(m.path("name").asText()))
          .forEach(m -> found.put(m.path("name").asText(), m.path("value").asLong()));
    }
    return found;
  }

  /** What its console complained of. */
  public List<String> complaints() {
    return List.copyOf(complaints);
  }

  /** Forgets the complaints so far. */
  public void forgive() {
    complaints.clear();
  }

  /** Every address that it asked for. */
  public List<String> requested() {
    return List.copyOf(requested);
  }

  @Override
  public void close() throws Exception {
    socket.abort();
    process.descendants().forEach(ProcessHandle::destroy);
    process.destroy();
    if (!process.waitFor(20, TimeUnit.SECONDS)) {
      process.destroyForcibly();
    }
  }
}
