package api

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"sync"

	"github.com/getkin/kin-openapi/openapi3"
)

//go:embed openapi.gen.yaml
var specText []byte

// specSum is the beginning of the sum of the specification, in hex.
var specSum = sync.OnceValue(func() string {
	sum := sha256.Sum256(specText)
	return hex.EncodeToString(sum[:4])
})

// Spec returns the specification that the routes were generated from.
func Spec() (*openapi3.T, error) {
	spec, err := openapi3.NewLoader().LoadFromData(specText)
	if err != nil {
		return nil, fmt.Errorf("api: specification: %w", err)
	}
	return spec, nil
}
