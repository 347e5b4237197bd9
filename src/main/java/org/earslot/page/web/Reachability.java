package org.earslot.page.web;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;

/**
 * By which names browsers and programs reach this server, and through whom.
 *
 * @param hosts host names besides those of this machine itself
 * @param proxies IP addresses of the reverse proxies that speak TLS to browsers; only what they say of the original
 *     request is believed
 */
@ConfigurationProperties("earslot.web")
record Reachability(List<String> hosts, List<String> proxies) {

    private static final Pattern IP_ADDRESS = Pattern.compile("[0-9.]+|\\[?[0-9a-fA-F]*:[0-9a-fA-F:.]*(%\\w+)?]?");

    Reachability(@Nullable List<String> hosts, @Nullable List<String> proxies) {
        this.hosts = stripped(hosts);
        this.proxies = stripped(proxies).stream().map(Reachability::declared).toList();
    }

    /** Whether browsers reach this server by TLS that a proxy speaks. */
    boolean isBehindProxy() {
        return !proxies.isEmpty();
    }

    boolean isProxy(String address) {
        return canonical(address).filter(proxies::contains).isPresent();
    }

    /** Whether a request that names {@code host} means this server. */
    boolean allows(String host) {
        String name = host.toLowerCase(Locale.ROOT);
        return name.equals("localhost") || hosts.contains(name) || (isIpAddress(name) && isLoopback(name));
    }

    /** Whether {@code address}, an IP address or a name, is of this machine alone. */
    static boolean isLoopback(String address) {
        try {
            return InetAddress.getByName(address).isLoopbackAddress();
        } catch (UnknownHostException e) {
            return false;
        }
    }

    private static boolean isIpAddress(String text) {
        return IP_ADDRESS.matcher(text).matches();
    }

    private static String declared(String proxy) {
        return canonical(proxy)
                .orElseThrow(() -> new IllegalArgumentException(
                        "earslot.web.proxies: give the IP address of each proxy instead of \"" + proxy + "\""));
    }

    /** One way of writing each IP address; no name is looked up. */
    private static Optional<String> canonical(String address) {
        try {
            return isIpAddress(address)
                    ? Optional.of(InetAddress.getByName(address).getHostAddress())
                    : Optional.empty();
        } catch (UnknownHostException e) {
            return Optional.empty();
        }
    }

    private static List<String> stripped(@Nullable List<String> given) {
        return Stream.ofNullable(given)
                .flatMap(List::stream)
                .map(each -> each.strip().toLowerCase(Locale.ROOT))
                .filter(each -> !each.isEmpty())
                .toList();
    }
}
