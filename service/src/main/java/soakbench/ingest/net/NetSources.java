package soakbench.ingest.net;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.ListenSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.source.Source;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.Reading;

/** Everything that listens on the network, and the slots that are bound to a sender's address. */
public final class NetSources {
  private final List<Source> sources = new ArrayList<>();
  private final List<NetSenders> senders = new ArrayList<>();
  private final List<RackFile.Slot> slots;

  public NetSources(RackFile rack, ArrivalClock clock, IdOwners owners) {
    ListenSettings listen = rack.listen();
    slots = rack.slots().stream().filter(slot -> slot.binding().isAddress()).toList();
    Map<String, LineSettings> own =
        slots.stream().collect(Collectors.toMap(s -> s.binding().address(), RackFile.Slot::lines));
    Function<String, LineSettings> ofHost = own::get;
    if (listen.udp() != null) {
      NetSenders udp = new NetSenders(listen, ofHost, owners, true);
      senders.add(udp);
      sources.add(new UdpSource(listen.udp(), udp, clock));
    }
    if (listen.tcp() != null) {
      NetSenders tcp = new NetSenders(listen, ofHost, owners, false);
      senders.add(tcp);
      sources.add(new TcpSource(listen, tcp, clock));
    }
  }

  public void start() {
    sources.forEach(Source::start);
  }

  public void stop() {
    sources.forEach(Source::stop);
  }

  public void close() {
    sources.forEach(Source::close);
  }

  /** The status of each slot bound to an address, then of each socket. */
  public List<SourceStatus> statuses() {
    List<SourceStatus> all = new ArrayList<>();
    List<SourceStatus> sockets = sources.stream().map(Source::status).toList();
    for (RackFile.Slot slot : slots) {
      all.add(ofSlot(slot, sockets));
    }
    all.addAll(sockets);
    return all;
  }

  private SourceStatus ofSlot(RackFile.Slot slot, List<SourceStatus> sockets) {
    String host = slot.binding().address();
    for (SourceStatus socket : sockets) {
      Optional<SourceStatus.Sender> sender =
          socket.senders().stream()
              .filter(s -> s.address().substring(0, s.address().lastIndexOf(':')).equals(host))
              .findFirst();
      if (sender.isPresent()) {
        return status(slot, socket.kind(), true, "", sender.get());
      }
    }
    return status(slot, SourceKind.UDP, false, "nothing has come from " + host + " yet", null);
  }

  private static SourceStatus status(
      RackFile.Slot slot, SourceKind kind, boolean open, String reason, SourceStatus.Sender s) {
    // Its lines are counted once, at the socket that they come by.
    SourceStatus.Heard heard =
        s == null
            ? SourceStatus.Heard.only(List.of(), Reading.NO_TIME)
            : SourceStatus.Heard.only(s.trackers(), s.lastHeardUs());
    SourceStatus.Way way = new SourceStatus.Way(kind, slot.binding().address());
    List<SourceStatus.Sender> senders = s == null ? List.of() : List.of(s);
    return new SourceStatus(slot.name(), way, open, reason, senders, "", heard);
  }
}
