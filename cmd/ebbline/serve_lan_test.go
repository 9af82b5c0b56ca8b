package main

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// certificate writes a certificate of its own making for one name.
func certificate(t *testing.T, name string) (cert, key string, trusted *x509.CertPool) {
	t.Helper()
	secret, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	leaf := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: name}, DNSNames: []string{name}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour)}
	der, err := x509.CreateCertificate(rand.Reader, leaf, leaf, &secret.PublicKey, secret)
	if err != nil {
		t.Fatal(err)
	}
	keyDER, err := x509.MarshalECPrivateKey(secret)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(t.TempDir(), "cert.pem"), filepath.Join(t.TempDir(), "key.pem")
	certPEM := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})
	for file, text := range map[string][]byte{cert: certPEM, key: pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: keyDER})} {
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	trusted = x509.NewCertPool()
	trusted.AppendCertsFromPEM(certPEM)
	return cert, key, trusted
}

// With a certificate the pages are served encrypted, under the name that it is
// for, and a screen that is not paired is shown how; a certificate for another
// name is refused at the start.
func TestServeWithACertificate(t *testing.T) {
	cert, key, trusted := certificate(t, "kitchen.local")
	file := filepath.Join(t.TempDir(), "house.ebb")
	if code, out, complaint := ran(t, "", "serve", "-file", file, "-addr", "127.0.0.1:0", "-lan", "bath.local", "-cert", cert, "-key", key); code != exitFailed || out != "" || !strings.Contains(complaint, "bath.local") {
		t.Errorf("for another name: status %d, %q, %q", code, out, complaint)
	}
	if exists(file) {
		t.Error("a refused certificate leaves a record behind")
	}
	p := begin(t, "ebbline", "serve", "-file", file, "-addr", "127.0.0.1:0", "-lan", "kitchen.local", "-cert", cert, "-key", key)
	t.Cleanup(func() {
		p.cmd.Process.Kill()
		p.cmd.Wait() // killed, so it has an error
	})
	if !strings.HasPrefix(p.address, "https://kitchen.local:") {
		t.Fatalf("it says the pages are at %s", p.address)
	}
	_, port, err := net.SplitHostPort(strings.Trim(strings.TrimPrefix(p.address, "https://"), "/"))
	if err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Transport: &http.Transport{
		TLSClientConfig: &tls.Config{RootCAs: trusted},
		DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
			return new(net.Dialer).DialContext(ctx, network, "127.0.0.1:"+port)
		},
	}}
	res, err := client.Get(p.address)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusForbidden || !strings.Contains(string(text), "Pair this screen") {
		t.Errorf("%s, %v", res.Status, err)
	}
	if res, err := http.Get("http://127.0.0.1:" + port + "/"); err == nil {
		res.Body.Close()
		if res.StatusCode != http.StatusBadRequest {
			t.Errorf("unencrypted: %s", res.Status)
		}
	}
}
