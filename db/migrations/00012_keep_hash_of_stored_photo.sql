-- +goose Up
-- The hash of the bytes as they are stored, written anew; `hilum verify` holds the files to it.
ALTER TABLE photo ADD COLUMN clean_sha256 bytea;
ALTER TABLE photo ADD CONSTRAINT photo_clean_hash_length CHECK (octet_length(clean_sha256) = 32);
GRANT UPDATE (size, clean_sha256) ON photo TO hilum_app;

-- +goose Down
ALTER TABLE photo DROP COLUMN clean_sha256;
