package api

import (
	_ "embed"
	"fmt"

	"github.com/getkin/kin-openapi/openapi3"
)

//go:embed openapi.gen.yaml
var specText []byte

// Spec returns the specification that the routes were generated from.
func Spec() (*openapi3.T, error) {
	spec, err := openapi3.NewLoader().LoadFromData(specText)
	if err != nil {
		return nil, fmt.Errorf("api: specification: %w", err)
	}
	return spec, nil
}
