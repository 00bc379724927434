import type { Metadata, Viewport } from 'next';
import type { ReactNode } from 'react';
import './globals.css';

export const metadata: Metadata = {
  title: { default: 'Idlemark', template: '%s · Idlemark' },
  description: 'Brake-vacuum readings, forecasts, bay plan and stand-down for a fleet.',
  formatDetection: { telephone: false },
};

// Every page carries the nonce of its own answer: none is rendered beforehand.
export const dynamic = 'force-dynamic';

export const viewport: Viewport = {
  width: 'device-width',
  initialScale: 1,
  themeColor: '#ffffff',
};

export default function RootLayout({ children }: { readonly children: ReactNode }) {
  return (
    <html lang="en">
      <body>
        <a className="skip-link" href="#main">
          Skip to the main part
        </a>
        {children}
      </body>
    </html>
  );
}
