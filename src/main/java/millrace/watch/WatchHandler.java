// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import com.sun.net.httpserver.Headers;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpHandler;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.fault.BadInputException;
import millrace.fault.InstrumentException;
import millrace.fault.MillraceException;
import millrace.watch.bench.BenchPage;
import millrace.watch.bench.WatchedBench;
import millrace.watch.guard.RequestGuard;
import millrace.watch.live.LiveRun;
import millrace.watch.live.LiveRuns;
import millrace.watch.live.OwnFaults;
import millrace.watch.live.RunRequests;
import millrace.watch.page.RunPage;
import millrace.watch.page.WatchFiles;
import millrace.watch.shift.ShiftPage;
import millrace.watch.shift.ShiftState;

/**
 * Answers requests: first the guard, then one of a few pages. No part of a path is used as the name
 * of a file. Thread-safe.
 */
final class WatchHandler implements HttpHandler {
  private static final Pattern RUN = Pattern.compile("/run/(\\d{1,15})(?:/(events|report|ask))?");

  private static final int LARGEST_FORM = 16_384;
  private static final int LONGEST_QUERY = 8192;

  private final RequestGuard guard;
  private final WatchPages pages;
  private final LiveRuns runs;
  private final RunRequests requests;
  private final EventStreams streams;
  private final Optional<WatchedBench> bench;
  private final Optional<ShiftState> shift;
  private final boolean readOnly;
  private final OwnFaults faults;
  private final FollowedPages followed;

  WatchHandler(WatchParts parts) {
    this.guard = parts.guard();
    this.pages = parts.pages();
    this.runs = parts.runs();
    this.requests = parts.requests();
    this.streams = parts.streams();
    this.bench = parts.bench();
    this.shift = parts.shift();
    this.readOnly = parts.readOnly();
    this.faults = parts.faults();
    this.followed = new FollowedPages(parts, pageToken());
  }

  @Override
  public void handle(HttpExchange exchange) throws IOException {
    try (exchange) {
      handled(exchange);
    } catch (RuntimeException | Error ours) {
      faults.add(ours); // else it would end unseen with its thread
    }
  }

  private void handled(HttpExchange exchange) throws IOException {
    RequestGuard.Request request = request(exchange);
    Optional<RequestGuard.Refusal> refusal = guard.refusal(request);
    if (refusal.isPresent()) {
      RequestGuard.Refusal r = refusal.get();
      send(exchange, WatchPages.message(r.status(), r.answer(), r.what()));
      return;
    }
    Matcher run = RUN.matcher(request.path());
    Optional<SharedPieces> pieces =
        request.method().equals("GET")
            ? followed.followed(request.path(), exchange.getRequestURI().getRawQuery(), run)
            : Optional.empty();
    if (pieces.isPresent()) {
      events(exchange, pieces.get());
    } else {
      send(exchange, answer(exchange, request, run));
    }
  }

  private static RequestGuard.Request request(HttpExchange exchange) {
    Headers headers = exchange.getRequestHeaders();
    String path = exchange.getRequestURI().getRawPath();
    return new RequestGuard.Request(
        exchange.getRequestMethod(),
        path == null ? "" : path,
        exchange.getRemoteAddress().getAddress().getHostAddress(),
        header(headers, "Host"),
        header(headers, "Origin"),
        header(headers, "Sec-Fetch-Site"),
        headers.getOrDefault("Cookie", java.util.List.of()).stream()
            .collect(java.util.stream.Collectors.joining(";")));
  }

  private static String header(Headers headers, String name) {
    String value = headers.getFirst(name);
    return value == null ? "" : value;
  }

  /** Turns every error into a page in words. */
  private Reply answer(HttpExchange exchange, RequestGuard.Request request, Matcher run)
      throws IOException {
    try {
      String query = exchange.getRequestURI().getRawQuery();
      if (query != null && query.length() > LONGEST_QUERY) {
        return WatchPages.message(414, "The address is too long", "Ask for less at once.");
      }
      if (request.method().equals("POST")) {
        return change(exchange, run);
      }
      if (!request.method().equals("GET")) {
        return WatchPages.message(405, "Not a way to ask", "Pages are got, changes are posted.");
      }
      return run.matches()
          ? ofRun(Long.parseLong(run.group(1)), run.group(2))
          : page(request, QueryWords.of(query));
    } catch (BadInputException e) {
      return WatchPages.message(400, "That cannot be shown", String.valueOf(e.getMessage()));
    } catch (MillraceException e) {
      return WatchPages.message(503, "The logbook does not tell", String.valueOf(e.getMessage()));
    } catch (IllegalArgumentException e) {
      return WatchPages.message(400, "The address is malformed", "Go back to all runs.");
    } catch (RuntimeException ours) {
      faults.add(ours);
      return WatchPages.message(
          500,
          "This is a fault of Millrace itself",
          "The run is not touched by it. The terminal of this page says where it is kept for its"
              + " maker.");
    }
  }

  private Reply page(RequestGuard.Request request, QueryWords words) {
    return switch (request.path()) {
      case "/" -> pages.shelf(words);
      case "/compare" -> pages.compare(words);
      case "/bench" -> ofBench();
      case "/shift" ->
          shift
              .map(s -> Reply.html(200, ShiftPage.of(s, pageToken())))
              .orElseGet(WatchHandler::missing);
      case "/style.css" -> Reply.of(200, "text/css; charset=utf-8", WatchFiles.style());
      case "/simulated.css" -> Reply.of(200, "text/css; charset=utf-8", WatchFiles.simulated());
      case "/page.js" -> Reply.of(200, "text/javascript; charset=utf-8", WatchFiles.script());
      case "/icon.svg" -> Reply.of(200, "image/svg+xml", WatchFiles.icon());
      case "/page-token" -> Reply.text(200, guard.pageToken());
      case "/enter" -> enter(request, words);
      default -> missing();
    };
  }

  private Reply ofBench() {
    return bench
        .map(b -> Reply.html(200, BenchPage.of(b, pageToken())))
        .orElseGet(
            () ->
                WatchPages.message(
                    404,
                    "No bench is shown",
                    "Start 'millrace watch' with --bench FILE to see it here."));
  }

  private static Reply missing() {
    return WatchPages.message(404, "No such page", "Go back to all runs.");
  }

  private Reply enter(RequestGuard.Request request, QueryWords words) {
    return guard
        .enter(words.one("token").orElse(""), request.from())
        .map(cookie -> Reply.to("/", Map.of("Set-Cookie", cookie)))
        .orElseGet(
            () ->
                WatchPages.message(
                    401,
                    "Not let in",
                    "Open the address with the token that the terminal showed."));
  }

  private Reply ofRun(long id, String what) {
    if (!pages.has(id)) {
      return WatchPages.message(404, "No run " + id, "Look for it among all runs.");
    }
    if ("report".equals(what)) {
      return pages.report(id);
    }
    if (what != null) {
      return missing();
    }
    LiveRun.Shown shown = runs.of(id).opened();
    return Reply.html(200, RunPage.of(shown.look(), shown.pieces(), ""));
  }

  private Reply change(HttpExchange exchange, Matcher run) throws IOException {
    boolean script = "yes".equals(exchange.getRequestHeaders().getFirst("X-Page-Script"));
    byte[] body = exchange.getRequestBody().readNBytes(LARGEST_FORM + 1);
    if (body.length > LARGEST_FORM) {
      return WatchPages.message(413, "Too much at once", "Say it in fewer words.");
    }
    String path = exchange.getRequestURI().getRawPath();
    boolean ofBench = bench.isPresent() && path.equals("/bench/check");
    boolean ofShift = shift.isPresent() && path.equals(RequestGuard.SCAN);
    if (!ofBench && !ofShift && !asksRun(run)) {
      return missing();
    }
    if (readOnly) {
      return WatchPages.message(
          403, "Only to be read", "It was started with --read-only: nothing can be asked here.");
    }
    QueryWords form = QueryWords.of(new String(body, StandardCharsets.UTF_8));
    if (!guard.isPageToken(form.one("page-token").orElse(""))) {
      return WatchPages.message(
          409, "The page is older than the server", "Load the page again, then ask again.");
    }
    if (ofBench) {
      return asked(bench.orElseThrow()::check, "Go back to the page of the bench.", script);
    }
    if (ofShift) {
      return asked(() -> scanned(form), "Go back to the page of the shift.", script);
    }
    long id = Long.parseLong(run.group(1));
    return asked(
        () -> requests.ask(id, form.first()), "Go back to the page of run " + id + ".", script);
  }

  private String scanned(QueryWords form) {
    String number = form.one("number").orElse("");
    return shift
        .orElseThrow()
        .answer(
            number.matches("\\d{1,9}") ? Integer.parseInt(number) : -1,
            form.one("scan").orElse(""));
  }

  private boolean asksRun(Matcher run) {
    return run.matches() && "ask".equals(run.group(2)) && pages.has(Long.parseLong(run.group(1)));
  }

  private static Reply asked(Supplier<String> request, String back, boolean script) {
    try {
      String said = request.get();
      return script ? Reply.text(200, said) : WatchPages.message(200, said, back);
    } catch (BadInputException e) {
      return refused(400, e, script);
    } catch (InstrumentException e) {
      return refused(409, e, script);
    }
  }

  private static Reply refused(int status, MillraceException e, boolean script) {
    String why = String.valueOf(e.getMessage());
    return script
        ? Reply.text(status, "Nothing was asked: " + why)
        : WatchPages.message(status, "Nothing was asked", why);
  }

  /** The token that changes must carry; empty text in read-only mode. */
  private String pageToken() {
    return readOnly ? "" : guard.pageToken();
  }

  private void events(HttpExchange exchange, SharedPieces page) throws IOException {
    if (!streams.enter()) {
      send(exchange, WatchPages.message(503, "Too many watch already", "Close another page."));
      return;
    }
    try {
      safe(exchange);
      exchange.getResponseHeaders().set("Content-Type", "text/event-stream; charset=utf-8");
      exchange.sendResponseHeaders(200, 0);
      streams.follow(page, exchange.getResponseBody());
    } finally {
      streams.leave();
    }
  }

  /** A page runs and loads nothing from elsewhere, and no other site frames it. */
  private static void safe(HttpExchange exchange) {
    Headers headers = exchange.getResponseHeaders();
    headers.set(
        "Content-Security-Policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self';"
            + " connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'");
    headers.set("X-Content-Type-Options", "nosniff");
    headers.set("X-Frame-Options", "DENY");
    headers.set("Referrer-Policy", "same-origin");
    headers.set("Cross-Origin-Opener-Policy", "same-origin");
    headers.set("Cross-Origin-Resource-Policy", "same-origin");
    headers.set("Cache-Control", "no-store");
  }

  private static void send(HttpExchange exchange, Reply reply) throws IOException {
    safe(exchange);
    reply.headers().forEach(exchange.getResponseHeaders()::set);
    exchange.getResponseHeaders().set("Content-Type", reply.type());
    byte[] body = reply.body();
    exchange.sendResponseHeaders(reply.status(), body.length == 0 ? -1 : body.length);
    try (OutputStream out = exchange.getResponseBody()) {
      out.write(body);
    }
  }
}
