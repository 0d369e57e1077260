package webhook

import (
	"fmt"
	"net/netip"
)

// special are the networks beside loopback, private, link-local and multicast
// ones that do not lie in the open internet, or lead elsewhere (the registries of
// special-purpose addresses of IANA, RFC 6890).
func special() []netip.Prefix {
	var all []netip.Prefix
	for _, text := range []string{
		"0.0.0.0/8", "100.64.0.0/10", "192.0.0.0/24", "192.0.2.0/24", "192.88.99.0/24", "198.18.0.0/15", "198.51.100.0/24",
		"203.0.113.0/24", "240.0.0.0/4", "::/96", "64:ff9b::/96", "64:ff9b:1::/48", "100::/64", "2001::/23", "2001:db8::/32", "2002::/16",
		"3fff::/20", "5f00::/16", "fec0::/10",
	} {
		all = append(all, netip.MustParsePrefix(text))
	}
	return all
}

// checkAddress refuses an address and port that must not be reached.
func checkAddress(address string) error {
	at, err := netip.ParseAddrPort(address)
	if err != nil {
		return fmt.Errorf("webhook: %w", err)
	}
	ip := at.Addr().Unmap().WithZone("")
	private := !ip.IsGlobalUnicast() || ip.IsPrivate() || ip.IsLoopback() || ip.IsLinkLocalUnicast()
	for _, network := range special() {
		private = private || network.Contains(ip)
	}
	if private {
		return fmt.Errorf("webhook: %w", ErrAddress)
	}
	return nil
}
