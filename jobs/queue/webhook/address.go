package webhook

import (
	"errors"
	"fmt"
	"net/netip"
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// ErrAddress: the receiver's address is one that must not be reached.
var ErrAddress = errors.New("the address is private")

// CheckURL refuses what cannot be the address of a receiver, and with ErrAddress what
// says by itself that it is private. Where a name leads is judged when it is called,
// since it may lead elsewhere by then.
func (c Config) CheckURL(text string) error {
	u, err := url.Parse(text)
	switch {
	case err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Hostname() == "":
		return errors.New("it is no address of the form https://host/path")
	case u.User != nil:
		return errors.New("it holds a name or a password")
	case u.Fragment != "":
		return errors.New("it holds a part behind a #")
	case !isPort(u.Port()):
		return errors.New("its port is none from 1 to 65535")
	}
	return c.checkHost(u.Hostname())
}

func isPort(text string) bool {
	n, err := strconv.Atoi(text)
	return text == "" || err == nil && n >= 1 && n <= 65535
}

// endsInANumber matches hosts that are taken for IPv4 addresses by readers that know more
// forms than the four decimal numbers (URL Standard of the WHATWG, "ends in a number").
var endsInANumber = regexp.MustCompile(`(^|\.)([0-9]+|0x[0-9a-f]*)$`)

// checkHost judges a host by its text.
func (c Config) checkHost(host string) error {
	host = strings.ToLower(norm.NFKC.String(host)) // digits, letters and points of other forms are the same to a look-up (UTS #46)
	host = strings.TrimSuffix(strings.ReplaceAll(host, "\u3002", "."), ".")
	ip, err := netip.ParseAddr(host)
	switch {
	case err != nil && endsInANumber.MatchString(host):
		return errors.New("it has an IP address that is not written as four decimal numbers with points between")
	case c.Private:
		return nil
	case err == nil:
		return checkIP(ip)
	case host == "localhost" || strings.HasSuffix(host, ".localhost"): // RFC 6761, 6.3
		return fmt.Errorf("webhook: %w", ErrAddress)
	}
	return nil
}

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
	return checkIP(at.Addr())
}

func checkIP(ip netip.Addr) error {
	ip = ip.Unmap().WithZone("")
	private := !ip.IsGlobalUnicast() || ip.IsPrivate() || ip.IsLoopback() || ip.IsLinkLocalUnicast()
	for _, network := range special() {
		private = private || network.Contains(ip)
	}
	if private {
		return fmt.Errorf("webhook: %w", ErrAddress)
	}
	return nil
}
